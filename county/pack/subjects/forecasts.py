"""Which places were expected to open late, and how it came."""

from county.domain.record.forecasts import forecasts as compared
from county.pack.record import Record
from county.pack.table import Cell, Table, moment, number, table, text

COLUMNS = (
    text("place", wide=8),
    text("name", wide=28),
    text("expected", "Expected to open late", 18),
    moment("said_at", "Said at"),
    number("minutes_before", "Minutes before own opening"),
    text("by", "Said by", 12),
    number("chance", "Chance said, per cent"),
    moment("likely_at", "Likely opening said"),
    text("says", wide=50),
    moment("opens_at", "Own opening"),
    moment("opened_at", "Opened"),
    number("minutes_late"),
    text("came_true", "Came true", 14),
)


def forecasts(record: Record) -> Table:
    """One row an expectation, in the order said; then the late openings of which nobody had said so."""
    found = compared(record.picture, record.as_of)
    words = {True: "yes", False: "no", None: "not known"}
    rows: list[list[Cell]] = [
        [
            *(each.place.place, each.place.name, "yes", each.case.learned_at, each.minutes_before),
            *(each.case.raised_by, each.chance, each.likely_at, each.case.says),
            *(each.opens_at, each.opened_at, each.minutes_late if each.opened_at else None, words[each.came_true]),
        ]
        for each in found.told
    ]
    rows += [
        [
            *(each.place.place, each.place.name, "no: unforeseen", *(None,) * 6, each.opens_at, each.opened_at),
            *(each.minutes if each.opened_at else None, "opened late" if each.opened_at else "not reported open"),
        ]
        for each in found.unforeseen
    ]
    says = (
        f"{found.came_true} of {len(found.told)} expectations of a late opening came true; {len(found.unforeseen)} "
        "late openings were not foreseen by a case of that kind before the place's own opening time."
    )
    return table("forecasts", "Forecasts", says, COLUMNS, rows)
