"""Late openings: how many minutes, what was the matter there, and how it was told."""

from county.domain.record.late_openings import LateOpening, late_openings
from county.pack.record import Record
from county.pack.saying import WHOSE_CLOCK, from_whom
from county.pack.seen import seen_at
from county.pack.table import Cell, Table, moment, number, table, text

COLUMNS = (
    text("place", wide=8),
    text("name", wide=28),
    moment("opens_at", "Own opening"),
    moment("opened_at", "Opened"),
    number("minutes", "Minutes late"),
    text("minutes_are", "Minutes are"),
    text("trouble", "What was the matter there (not said to be the cause)", 50),
    text("told", "What the place wrote", 30),
    text("whose_clock", "By whose clock", 24),
    text("told_by", "Told by", 16),
    moment("learned_at", "Known at the office"),
    moment("noticed_at", "Late opening noted"),
    moment("acknowledged_at", "Acknowledged"),
)


def openings(record: Record) -> Table:
    """One row a late opening; those never reported open come first."""
    says = (
        "Places that opened after their own opening time, or were not reported open. Minutes are whole and run to the "
        "opening; where none was reported, to the closing or to the last entry, and are the most it can have been."
    )
    rows = [_row(record, each) for each in late_openings(record.picture, record.as_of)]
    return table("late_openings", "Late openings", says, COLUMNS, rows)


def _row(record: Record, late: LateOpening) -> list[Cell]:
    how = late.opening
    trouble = "; ".join(
        f"{record.plan.kind(case.exception).says}{f' {case.device}' if case.device else ''}" for case in late.trouble
    )
    return [
        *(late.place.place, late.place.name, late.opens_at, late.opened_at, late.minutes),
        "to its opening" if late.opened_at else "at most: no opening reported",
        trouble or None,
        late.told or None,
        WHOSE_CLOCK[how.report.stamp] if how else None,
        from_whom(how.told) if how else None,
        how.learned_at if how else None,
        late.late.learned_at if late.late else None,
        seen_at(late.late),
    ]
