"""Silences, and what each rover had to do."""

from county.domain.moments import whole_minutes
from county.domain.record.rover_loads import rover_loads
from county.domain.record.silences import silences
from county.pack.record import Record
from county.pack.seen import seen_at
from county.pack.table import Cell, Table, moment, number, table, text

SILENCES = (
    text("place", wide=8),
    text("name", wide=28),
    moment("since", "Silent since: last heard from, or first due"),
    moment("until", "Heard from again"),
    number("minutes"),
    number("allowed", "Minutes the plan allows"),
    moment("noticed_at", "Noted by the clock"),
    moment("acknowledged_at", "Acknowledged"),
)
ROVERS = (
    text("rover", wide=8),
    text("name", wide=20),
    number("cases"),
    number("reached", "Reached on site"),
    number("cleared"),
    number("turned_down", "Turned down"),
    number("given_over", "Given to another"),
    number("under_way_minutes", "Minutes under way"),
    number("on_site_minutes", "Minutes on site"),
    number("no_way_time", "Ways without a time"),
    number("no_site_time", "Visits without a time"),
    moment("first"),
    moment("last"),
)


def quiet(record: Record) -> Table:
    """One row a silence, those that still last first, then the longest."""
    says = "Each time nothing was heard from a place for longer than the plan allows. Without an end it still lasted."
    rows: list[list[Cell]] = [
        [
            *(each.place.place, each.place.name, each.since, each.until),
            *(whole_minutes(each.length), whole_minutes(each.allowed)),
            each.noticed.learned_at if each.noticed else None,
            seen_at(each.noticed),
        ]
        for each in silences(record.picture, record.as_of)
    ]
    return table("silences", "Silences", says, SILENCES, rows)


def rovers(record: Record) -> Table:
    """One row a rover, the most minutes first."""
    says = (
        "What each rover had to do. Minutes of intervals that overlap count once; a way or a visit of which a time is "
        "missing is counted beside, and not in the minutes."
    )
    rows: list[list[Cell]] = [
        [
            *(each.rover, each.name, len(each.stints), each.reached, each.cleared, each.turned_down, each.given_over),
            *(each.under_way_minutes, each.on_site_minutes, each.no_way_time, each.no_site_time),
            *(each.first, each.last),
        ]
        for each in rover_loads(record.picture, record.as_of)
    ]
    return table("rovers", "Rovers", says, ROVERS, rows)
