"""The activity log as it is printed, under the block names of ICS form 214."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict
from datetime import datetime

from county.pack.about import About
from county.pack.printed.listing import shown
from county.pack.printed.typeset import pdf
from county.pack.record import Record
from county.pack.table import Cell, Row, Table

SAYS = (
    "The office's log in the order things happened, under the block names of ICS form 214. It does not claim to comply "
    "with that form. What the clock noticed of many places in one minute stands in one line. Blocks 3, 4 and 8 are for "
    "whoever signs it."
)

MOST_LINES, MOST_PLACES = 24, 40
_CLOCK = "clock"


def activity_log_pdf(record: Record, about: About, activity: Table) -> bytes:
    """The log as a PDF; `activity` is the subject of that name."""
    return pdf("activity_log", told(record, about, activity))


def told(record: Record, about: About, activity: Table) -> dict[str, object]:
    """Everything that the log's page is told."""
    about_places = [row[0] for row in activity.rows if row[3]]
    moments = [at for at in about_places if isinstance(at, datetime)]
    return {
        "about": asdict(about),
        "says": SAYS,
        "incident": about.election,
        "from": _when(record, min(moments, default=record.as_of)),
        "to": _when(record, record.as_of),
        "agency": f"{record.plan.election.county}, {record.plan.word('office')}",
        "position": record.plan.word("rover").capitalize(),
        "resources": _resources(record),
        "rows": [_row(record, row, places) for row, places in _gathered(activity.rows)],
    }


def _resources(record: Record) -> list[str]:
    """Each rover in a line of its own; where they are many, all of them in one."""
    rovers = [r.rover if r.name in ("", r.rover) else f"{r.rover} {r.name}" for r in record.roster.rovers]
    return rovers if len(rovers) <= MOST_LINES else [", ".join(rovers)]


def _when(record: Record, moment: datetime) -> Mapping[str, str]:
    local = moment.astimezone(record.zone)
    return {"date": f"{local:%Y-%m-%d}", "time": f"{local:%H:%M}"}


def _gathered(rows: Sequence[Row]) -> Iterator[tuple[Row, list[str]]]:
    """Each row with its place; what the clock noticed of many places in one minute is one row with all of these."""
    places: dict[tuple[Cell, ...], list[str]] = {}
    first: dict[tuple[Cell, ...], Row] = {}
    for row in rows:
        at, what, by, place, number = row
        minute = at.replace(second=0, microsecond=0) if isinstance(at, datetime) else at
        alike = (minute, what, by) if by == _CLOCK else (number,)
        first.setdefault(alike, row)
        places.setdefault(alike, []).append(str(place) if place else "")
    yield from ((row, places[alike]) for alike, row in first.items())


def _row(record: Record, row: Row, places: Sequence[str]) -> list[str]:
    at, what, by, place, _ = row
    local = at.astimezone(record.zone) if isinstance(at, datetime) else None
    said = shown(what, record.zone).replace(f"Case {place}.", "Case ")
    where = f"{places[0]}: " if places[0] else ""
    if len(places) > 1:
        more = f" and {len(places) - MOST_PLACES:,} more, in csv/activity_log.csv" if len(places) > MOST_PLACES else ""
        where, said = "", f"{said}. {len(places):,} places: {', '.join(places[:MOST_PLACES])}{more}"
    return [f"{local:%Y-%m-%d %H:%M}" if local else "", f"{where}{said} ({by})"]
