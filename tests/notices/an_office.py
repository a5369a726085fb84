"""An office that tells people: a ladder, people behind channels, cases reported and notices owed."""

from collections.abc import Iterator, Sequence
from contextlib import AbstractContextManager, contextmanager
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

from sqlalchemy import func, select

from county import desk, telling, upkeep
from county.clock import Clock
from county.domain.cases import Case
from county.domain.entries import Entry, Kind
from county.domain.messages import Waiting
from county.domain.plan import Contact, Plan, Rung
from county.domain.roster import Roster
from county.following import Following
from county.sending import Sending
from county.settings import Settings, sqlite_url
from county.store.engine import make_engine, reading
from county.store.schema import messages
from county.wiring import Office
from tests import migrated
from tests.builders import a_plan, a_roster, after
from tests.told import a_person, a_rung

QUICK = Sending(
    tries=4,
    first_wait=timedelta(seconds=0.05),
    longest_wait=timedelta(seconds=0.2),
    timeout=timedelta(seconds=5),
    burst=timedelta(seconds=0),
)


def the_plan(*rungs: Rung, people: Sequence[Contact] = (a_person(),), rehearsal: bool = True) -> Plan:
    """The usual plan with a ladder and people; by default the lead is told at once."""
    plan = a_plan(election=replace(a_plan().election, rehearsal=rehearsal))
    return replace(plan, ladder=rungs or (a_rung(0),), people=tuple(people))


@contextmanager
def an_office(
    url: str, plan: Plan, minutes: float = 0, sending: Sending = QUICK, roster: Roster | None = None
) -> Iterator[Office]:
    """An office over a migrated database, so many minutes after 06:00 by a clock that stands still."""
    settings = Settings(Path("nowhere"), url, Path("nowhere"), sending=sending)
    office = Office(settings, Clock(after(minutes), speed=0), plan, make_engine(url))
    try:
        upkeep.load_roster(office, roster or a_roster())
        yield office
    finally:
        office.engine.dispose()


def a_sqlite_office(
    folder: Path, plan: Plan, sending: Sending = QUICK, roster: Roster | None = None
) -> AbstractContextManager[Office]:
    """The same over a fresh SQLite file, where the database makes no difference."""
    url = sqlite_url(folder / "day.db")
    migrated.put(url)
    return an_office(url, plan, 61, sending, roster)


def at(office: Office, minutes: float) -> Office:
    """The same office so many minutes after 06:00."""
    return replace(office, clock=Clock(after(minutes), speed=0))


def following(office: Office) -> Following:
    """All that is known by now."""
    follower = Following(office)
    follower.catch_up()
    return follower


def tell(office: Office) -> int:
    """One look at who is to be told; how many facts were written down."""
    return telling.tell_due(office, telling.Watch(), following(office).picture, office.clock.now())


def cases(office: Office) -> dict[str, Case]:
    return {case.case: case for case in following(office).picture.cases()}


def told(office: Office) -> dict[str, tuple[str, ...]]:
    """What each case says of who was told."""
    return {name: case.told for name, case in cases(office).items() if case.told}


def facts(office: Office, fact: str = "") -> list[dict[str, object]]:
    """The facts about notices in the ledger, in order."""
    pages = desk.ledger_pages(office, limit=100_000)
    return [page for page in pages if page["kind"] == Kind.NOTICE and fact in ("", page["fact"])]


def tried(office: Office) -> int:
    """How many tries have failed or succeeded."""
    with reading(office.engine) as connection:
        return int(connection.execute(select(func.coalesce(func.sum(messages.c.tries), 0))).scalar_one())


def ended(office: Office) -> int:
    """How many messages have arrived or failed for good."""
    with reading(office.engine) as connection:
        query = select(func.count()).select_from(messages).where(messages.c.ended_at.is_not(None))
        return int(connection.execute(query).scalar_one())


def report(office: Office, *entries: Entry) -> None:
    """Keep reports."""
    desk.keep(office, entries)


def a_waiting(number: int, person: str = "Ada Rill", kind: str = "scanner-jam", case: str = "") -> Waiting:
    """A notice owed, as far as the outbox cares."""
    name = f"{number:012x}"
    return Waiting(
        notice=name,
        number=number,
        case=case or f"P014.{kind}.{number}",
        place="P014",
        person=person,
        role="lead",
        channel="console",
        kind=kind,
        danger=False,
        due_at=after(),
        owed_at=after(),
        title=f"Notice {number}",
        body=f"Body {number}\nNotice {name}. The same number twice is the same notice.",
        line=f"Line {number}",
    )
