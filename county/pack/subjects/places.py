"""Every place: its own opening, when it opened, by whose clock and who told it, and how the day ended there."""

from county.domain.picture import PlaceNow
from county.domain.record.opening import opening
from county.pack.record import Record
from county.pack.saying import WHOSE_CLOCK, from_whom
from county.pack.table import Cell, Table, moment, number, table, text

COLUMNS = (
    text("place", wide=8),
    text("name", wide=28),
    text("address", wide=24),
    text("city", wide=14),
    text("zone", "Rovers’ zone"),
    text("standing", wide=11),
    moment("opens_at", "Own opening"),
    moment("opened_at", "Opened"),
    number("minutes_late"),
    text("whose_clock", "By whose clock", 30),
    text("told_by", "Told by", 18),
    moment("learned_at", "Known at the office"),
    number("openings_corrected", "Times the opening was put right"),
    moment("closes_at", "Own closing"),
    moment("closed_at", "Closed"),
    moment("received_at", "Received at the office"),
    number("lost_minutes", "Minutes lost"),
    number("cases"),
    number("open_cases", "Cases still open"),
    number("reports"),
    moment("last_heard_at", "Last heard from"),
)


def places(record: Record) -> Table:
    """One row a place, in the roster's order."""
    rows = [_row(record, now) for now in record.places]
    says = (
        "Every place on the roster. An empty field was not reported; it is never 0 and never means that all was well."
    )
    return table("places", "Places", says, COLUMNS, rows)


def _row(record: Record, now: PlaceNow) -> list[Cell]:
    place, day, how = now.place, now.day, opening(now.day)
    return [
        *(place.place, place.name, place.address, place.city, place.zone, now.standing.value),
        now.expected.opens_at,
        day.opened_at,
        now.minutes_late if day.opened_at else None,
        WHOSE_CLOCK[how.report.stamp] if how else None,
        from_whom(how.told) if how else None,
        how.learned_at if how else None,
        len(how.corrections) if how else None,
        now.expected.closes_at,
        day.closed_at,
        day.received_at,
        now.lost_minutes,
        len(now.cases),
        len(now.open_cases),
        len([entry for entry in day.told if entry.sender not in ("clock", "notices")]),
        day.last_heard_at,
    ]
