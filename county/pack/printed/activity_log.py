"""The activity log as it is printed, under the block names of ICS form 214."""

from collections.abc import Mapping
from dataclasses import asdict
from datetime import datetime

from county.pack.about import About
from county.pack.printed.listing import shown
from county.pack.printed.typeset import pdf
from county.pack.record import Record
from county.pack.table import Cell, Table

SAYS = (
    "The office's log in the order things happened, under the block names of ICS form 214. It does not claim to comply "
    "with that form. Blocks 3, 4 and 8 are for whoever signs it."
)

MOST_LINES = 24


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
        "rows": [_row(record, row) for row in activity.rows],
    }


def _resources(record: Record) -> list[str]:
    """Each rover in a line of its own; where they are many, all of them in one."""
    rovers = [r.rover if r.name in ("", r.rover) else f"{r.rover} {r.name}" for r in record.roster.rovers]
    return rovers if len(rovers) <= MOST_LINES else [", ".join(rovers)]


def _when(record: Record, moment: datetime) -> Mapping[str, str]:
    local = moment.astimezone(record.zone)
    return {"date": f"{local:%Y-%m-%d}", "time": f"{local:%H:%M}"}


def _row(record: Record, row: tuple[Cell, ...]) -> list[str]:
    at, what, by, place, _ = row
    local = at.astimezone(record.zone) if isinstance(at, datetime) else None
    where = f"{place}: " if place else ""
    return [f"{local:%Y-%m-%d %H:%M}" if local else "", f"{where}{shown(what, record.zone)} ({by})"]
