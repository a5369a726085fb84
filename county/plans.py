"""The county's plan and its versions: which is in force, a new one written down, the earlier ones kept readable."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from sqlalchemy import Connection

from county.allowed import must_be_allowed
from county.domain.entries import REPORT_KINDS, Entry, Kind
from county.domain.intake import Hand
from county.domain.plan import Plan
from county.domain.plan_file import parse_plan
from county.domain.plan_questions import questions
from county.domain.plan_secrets import exposed
from county.domain.plan_versions import FILE, LONGEST, PlanVersion, plan_entry, version_of
from county.domain.receipts import Outcome
from county.domain.senders import Sender
from county.errors import BadPlan, NotSure, Problem, Refused
from county.store import ledger
from county.store import plans as stored
from county.store.engine import reading, writing
from county.wiring import Office, read_plan_text

MADE_UP = Sender.at_desk("rehearsal")
"""From whom made-up reports come: a ledger that holds any is a rehearsal's for ever."""
_OF_THE_DAY = (*REPORT_KINDS, Kind.ACTION)
_MADE_UP_THERE = (
    "rehearsal = false, but this ledger holds made-up reports of a rehearsal and can never be the day's; "
    "`python -m county init --like FOLDER` makes a data folder with the same set-up and an empty ledger"
)
_THE_DAY_THERE = (
    "rehearsal = true, but this ledger holds reports of the real day; rehearse in a data folder of its own, "
    "as the Set-up page does"
)


@dataclass(frozen=True, slots=True)
class Standing:
    """The plan in force as text, every version that was written down, and whether the plan file says something else.

    `number` is the newest version's, 0 where none was written down yet.
    """

    text: str
    versions: tuple[PlanVersion, ...]
    file_differs: bool

    @property
    def number(self) -> int:
        return self.versions[-1].number if self.versions else 0

    @property
    def in_ledger(self) -> bool:
        """Whether the newest version is the truth, and no longer the plan file."""
        return bool(self.versions) and self.versions[-1].by_a_person


def standing(office: Office) -> Standing:
    """The plan in force and its versions; an empty text where neither ledger nor file has one."""
    with reading(office.engine) as connection:
        return _standing(connection, office)


def take_up_file(office: Office) -> bool:
    """Write down the plan file's text as a version where it is in force and newer than what was written down.

    A program does so before it takes reports, so that no plan by which the day was judged is ever lost. Whether there
    was anything to write. Nothing is written of a plan with a password in it. Raises BadPlan where the ledger cannot
    go on under it (see `_must_suit`).
    """
    if office.archive:
        return False
    clock = office.clock
    hand = Hand("file", "the plan file", FILE, clock.now(), clock.word)
    with writing(office.engine) as connection:
        now = _standing(connection, office)
        _must_suit(connection, now.versions, office.plan)
        known = bool(now.versions) and now.versions[-1].text == now.text
        if not now.text or known or exposed(office.plan):
            return False
        ledger.append(connection, [plan_entry(now.number + 1, now.text, office.plan, hand)])
    return True


def save(
    office: Office, text: str, hand: Hand, *, based_on: int, sure: bool = False, note: str = ""
) -> tuple[PlanVersion, ...]:
    """Write down a new version, in force from now on in every program; what was written, the newest last.

    `based_on` is the version it was made from. Raises BadPlan where the text is no plan, Refused where somebody else
    has made a version meanwhile or an address may hold a password, NotAllowed where a person at the board may not, and
    NotSure with every dangerous change unless `sure`.
    """
    text = text.replace("\r\n", "\n")
    plan = check(text)
    with writing(office.engine) as connection:
        now = _standing(connection, office)
        _must_be_next(now, text, based_on)
        asked = _asked(now.text, plan)
        if asked and not sure:
            raise NotSure(asked)
        _must_suit(connection, now.versions, plan)
        new = [*_unwritten(now, hand), plan_entry(0, text, plan, hand, note.strip()[:2_000])]
        entries = [_numbered(entry, now.number + n) for n, entry in enumerate(new, 1)]
        must_be_allowed(connection, entries)
        receipts = ledger.append(connection, entries)
        if any(receipt.outcome is not Outcome.KEPT for receipt in receipts):
            raise Refused([Problem("", "somebody has made a version meanwhile; nothing was written down")])
    return tuple(version_of(entry) for entry in entries)


def check(text: str) -> Plan:
    """The plan that a text says. Raises BadPlan, or Refused where it cannot be written down."""
    if len(text) > LONGEST:
        raise BadPlan("the plan", 0, f"is longer than {LONGEST:,} characters")
    plan = parse_plan(text, "the plan")
    problems = exposed(plan)
    if problems:
        raise Refused(problems)
    return plan


def _asked(before: str, plan: Plan) -> list[str]:
    """Every dangerous change from the text in force to a plan, in sentences."""
    if not before:
        return []
    try:
        return [each.says for each in questions(parse_plan(before, "the plan in force"), plan)]
    except BadPlan:
        return ["The plan in force cannot be read by this program, so nobody can say what this changes."]


def _standing(connection: Connection, office: Office) -> Standing:
    every = stored.every_version(connection)
    try:
        file = read_plan_text(office.settings)
    except BadPlan:
        return Standing(every[-1].text if every else "", every, file_differs=False)
    if every and every[-1].by_a_person:
        return Standing(every[-1].text, every, file_differs=file not in {version.text for version in every})
    return Standing(file, every, file_differs=False)


def _must_be_next(now: Standing, text: str, based_on: int) -> None:
    if based_on != now.number:
        newest = now.versions[-1] if now.versions else None
        by = f" by {newest.by}" if newest else ""
        raise Refused([Problem("", f"version {now.number} was made meanwhile{by}; look at it first")])
    if text == now.text:
        raise Refused([Problem("", "nothing is changed")])


def _unwritten(now: Standing, hand: Hand) -> list[Entry]:
    """The file's plan as a version of its own before the first that a person makes."""
    if not now.text or (now.versions and now.versions[-1].text == now.text):
        return []
    try:
        plan = parse_plan(now.text, "the plan file")
    except BadPlan:
        return []  # nothing was ever judged by it
    if exposed(plan):
        return []
    seen = Hand("file", "the plan file", FILE, hand.received_at, hand.clock)
    return [plan_entry(0, now.text, plan, seen)]


def _numbered(entry: Entry, number: int) -> Entry:
    return replace(entry, key=f"plan/{number}", fields={**entry.fields, "version": number})


def _must_suit(connection: Connection, every: Sequence[PlanVersion], plan: Plan) -> None:
    """A rehearsal's ledger never becomes the day's, nor the day's a rehearsal's. Raises BadPlan."""
    if not plan.election.rehearsal:
        if stored.holds_from(connection, MADE_UP.name):
            raise BadPlan("the plan", 0, _MADE_UP_THERE)
        return
    for number, version in enumerate(every, 1):
        until = every[number].seq if number < len(every) else None
        if not version.rehearsal and stored.holds_between(connection, version.seq, until, _OF_THE_DAY):
            raise BadPlan("the plan", 0, _THE_DAY_THERE)
