"""Who was told, when, and whether it arrived: the ledger's facts about notices, folded to one value each."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum
from zoneinfo import ZoneInfo

from county.domain.cases import Case
from county.domain.entries import Entry


class Fact(StrEnum):
    """What the ledger says of a notice; a later one of the list outweighs an earlier one."""

    NOBODY = "nobody"
    OWED = "owed"
    FAILED = "failed"
    ARRIVED = "arrived"


_WEIGHTS = {fact: weight for weight, fact in enumerate(Fact)}


@dataclass(frozen=True, slots=True)
class Notice:
    """One person told of one case for one rung of the ladder, or that there was nobody to tell in a role.

    `telling` is the rung's key for the case. `due_at` is when it was due, `owed_at` when the office wrote it down, `at`
    when the last known `fact` came about (aware UTC). `channel` is a word, such as `e-mail`; never an address.
    """

    notice: str
    case: str
    telling: str
    role: str
    fact: Fact
    due_at: datetime
    owed_at: datetime
    at: datetime
    person: str = ""
    channel: str = ""
    late: bool = False

    def says(self, zone: ZoneInfo) -> str:
        """The notice in words, times in this zone: `lead (Ada Rill) by e-mail 05:18, arrived`."""
        if self.fact is Fact.NOBODY:
            return f"nobody on shift for {self.role} {_clock(self.owed_at, zone)}"
        whom = self.role if self.role == self.person else f"{self.role} ({self.person})"
        late = f" (late: due {_clock(self.due_at, zone)})" if self.late else ""
        return f"{whom} by {self.channel} {_clock(self.at, zone)}, {_IN_WORDS[self.fact]}{late}"


_IN_WORDS = {Fact.OWED: "on its way", Fact.FAILED: "did not arrive", Fact.ARRIVED: "arrived"}


def _clock(moment: datetime, zone: ZoneInfo) -> str:
    return f"{moment.astimezone(zone):%H:%M}"


def notices_of(entries: Iterable[Entry]) -> tuple[Notice, ...]:
    """Every notice these entries speak of, first owed first, whatever their order. What was never owed is left out."""
    facts = [entry for entry in entries if entry.text("fact") in _WEIGHTS]
    begun = {entry.text("notice"): _begun(entry) for entry in facts if entry.text("fact") in (Fact.OWED, Fact.NOBODY)}
    for entry in facts:
        held, fact = begun.get(entry.text("notice")), Fact(entry.text("fact"))
        if held and _WEIGHTS[fact] > _WEIGHTS[held.fact]:
            begun[held.notice] = replace(held, fact=fact, at=entry.happened_at)
    return tuple(sorted(begun.values(), key=_in_order))


def _in_order(notice: Notice) -> tuple[datetime, datetime, bool, str]:
    # that nobody was there stands before whoever was told instead
    return notice.owed_at, notice.due_at, notice.fact is not Fact.NOBODY, notice.notice


def with_told(cases: Sequence[Case], notices: Sequence[Notice], zone: ZoneInfo) -> tuple[Case, ...]:
    """The cases, each saying who was told of it."""
    about: dict[str, list[str]] = {}
    for notice in notices:
        about.setdefault(notice.case, []).append(notice.says(zone))
    return tuple(replace(case, told=tuple(about[case.case])) if case.case in about else case for case in cases)


def _begun(entry: Entry) -> Notice:
    return Notice(
        notice=entry.text("notice"),
        case=entry.text("case"),
        telling=entry.text("telling"),
        role=entry.text("role"),
        fact=Fact(entry.text("fact")),
        due_at=entry.happened_at,
        owed_at=entry.received_at,
        at=entry.received_at,
        person=entry.text("person"),
        channel=entry.text("channel"),
        late=bool(entry.fields.get("late")),
    )
