"""Time lost, place by place, and every interruption behind it."""

from county.domain.interruptions import Interruption
from county.domain.record.time_lost import time_lost
from county.pack.record import Record
from county.pack.table import Cell, Table, moment, number, table, text

LOST = (
    text("place", wide=8),
    text("name", wide=28),
    moment("opens_at", "Own opening"),
    moment("opened_at", "Opened"),
    moment("closes_at", "Own closing"),
    number("late_minutes", "Minutes late"),
    number("stops"),
    number("minutes", "Minutes lost"),
    text("minutes_are", "Minutes are"),
    text("reaches_threshold", "Reaches the plan’s threshold"),
    moment("closes_if_given_back", "Closing if every minute were given back"),
    number("impaired", "Intervals in which voting was impaired"),
)
INTERRUPTIONS = (
    text("place", wide=8),
    moment("begins"),
    moment("ends"),
    number("minutes"),
    text("effect", wide=10),
    text("exception", "What", 26),
    text("device"),
    text("offered", "What voters were offered meanwhile", 30),
    number("voters_left", "Voters who left"),
    text("told_by", "Told by", 16),
    moment("learned_at", "Known at the office"),
    text("counted", "Counted as time lost"),
)


def lost(record: Record) -> Table:
    """One row a place that lost time or had an interruption, the most minutes first."""
    limits = record.plan.limits
    reach = f"{'at least' if limits.extension_inclusive else 'more than'} {limits.extension_minutes} minutes"
    says = (
        "Minutes in which nobody could vote: late opening and stops together, overlaps counted once, cut at the "
        f"place's own closing. The plan's threshold is {reach}. Computed and documented; a court or a board decides."
    )
    rows: list[list[Cell]] = [
        [
            *(
                each.place.place,
                each.place.name,
                each.opens_at,
                each.opened_at,
                each.closes_at,
                each.late_minutes,
                len(each.stops),
            ),
            *(
                each.minutes,
                "as reported" if each.opened_at else "at most: no opening reported",
                each.reaches_threshold,
            ),
            # whether a place that was not reported open lost any time is not known, so no closing is reckoned for it
            each.closes_if_given_back if each.reaches_threshold and each.opened_at else None,
            len(each.impaired),
        ]
        for each in time_lost(record.picture, record.as_of)
    ]
    return table("time_lost", "Time lost", says, LOST, rows)


def interruptions(record: Record) -> Table:
    """One row an interruption, in the order of places and time."""
    counted = {
        (each.place.place, stop.why.key)
        for each in time_lost(record.picture, record.as_of)
        for stop in each.stops
        if stop.why
    }
    says = (
        "Every interval in which voting was stopped or impaired, as reported. Without an end nobody reported it over; "
        "counted as time lost is what stopped the whole place, as long as its case stood."
    )
    rows = [
        _interruption(record, place, each, counted=(place, each.key) in counted)
        for place, state in record.picture.places.items()
        for each in state.day.interruptions
    ]
    return table("interruptions", "Interruptions", says, INTERRUPTIONS, rows)


def _interruption(record: Record, place: str, each: Interruption, *, counted: bool) -> list[Cell]:
    minutes = int((each.ends - each.begins).total_seconds() // 60) if each.ends else None
    return [
        *(place, each.begins, each.ends, minutes, each.effect.value, record.plan.kind(each.exception).says),
        *(each.device or None, each.fallback or None, each.voters_left, each.by, each.learned_at, counted),
    ]
