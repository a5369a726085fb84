"""One place's day minute by minute: every entry in the order it happened, and when it was known."""

from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import datetime

from county.domain.entries import REPORT_KINDS, Kind, Stamp
from county.domain.notices import Fact, Notice
from county.domain.picture import PlaceState
from county.domain.record.place_record import Line, lines
from county.domain.wall import Wall
from county.pack.record import Record
from county.pack.saying import WHOSE_CLOCK, as_told, from_whom, what
from county.pack.subjects.entries import became

Row = dict[str, object]


def minute_by_minute(record: Record, state: PlaceState, wall: Wall) -> list[Row]:
    """Every entry of the place in the order it happened; a notice is one row, with what became of it."""
    every = lines(state.day)
    numbers = {line.entry.key: line.entry.seq for line in every}
    rows = [
        (line.entry.happened_at, line.entry.received_at, _entry(record, line, wall, numbers))
        for line in every
        if line.entry.kind is not Kind.NOTICE
    ]
    told: dict[tuple[datetime, datetime, str], list[Notice]] = {}
    for each in state.notices:
        told.setdefault((each.due_at, each.owed_at, each.case), []).append(each)
    rows += [(due, owed, _notices(due, owed, case, some, wall)) for (due, owed, case), some in told.items()]
    return [row for _, _, row in sorted(rows, key=lambda each: each[:2])]


def _entry(record: Record, line: Line, wall: Wall, numbers: Mapping[str, int]) -> Row:
    entry, now = line.entry, became(line)
    says = what(entry, record.plan, wall.zone).replace(f"Case {entry.place}.", "Case ")
    if entry.kind is Kind.CORRECTION:
        says = f"Entry {entry.seq}. {_by_number(says, entry.text('corrects'), numbers)}"
    office = entry.kind in REPORT_KINDS and entry.stamp is not Stamp.TOLD
    told = f", told as {as_told(entry.told_at, wall)}" if entry.told_at else ""
    return _row(
        wall.second(entry.happened_at),
        wall.second(entry.received_at),
        from_whom(entry),
        says,
        gone=line.struck,
        now=now[:1].upper() + now[1:],
        by=f"{WHOSE_CLOCK[entry.stamp]}{told}" if office else "",
    )


def _by_number(says: str, key: str, numbers: Mapping[str, int]) -> str:
    """A correction in words, with the number of the report that it speaks of and not its key."""
    return says.replace(f"report {key}", f"entry {numbers[key]}", 1) if key in numbers else says


_BECAME = {Fact.ARRIVED: "arrived", Fact.FAILED: "did not arrive", Fact.OWED: "no word whether it arrived"}


def _notices(due: datetime, owed: datetime, case: str, some: Sequence[Notice], wall: Wall) -> Row:
    """Who was told of a case at one time, in a row; two rungs of the ladder may then tell the same person."""
    whom = Counter(_became(each, wall) for each in some)
    said = "; ".join(f"{each} ({many} notices)" if many > 1 else each for each, many in whom.items())
    return _row(wall.second(due), wall.second(owed), "notices", f"Told of {case.partition('.')[2]}: {said}")


def _became(notice: Notice, wall: Wall) -> str:
    if notice.fact is Fact.NOBODY:
        return f"{notice.role}, nobody on shift"
    became = _BECAME[notice.fact] + (f" {wall.second(notice.at)}" if notice.fact is Fact.ARRIVED else "")
    return f"{notice.role} ({notice.person}) by {notice.channel}, {became}"


def _row(happened: str, known: str, by_whom: str, says: str, *, gone: bool = False, now: str = "", by: str = "") -> Row:
    same = known == happened
    return {
        "happened": happened,
        "known": "" if same else known,
        "from": by_whom,
        "what": says,
        "gone": gone,
        "now": now,
        "clock": by,
    }
