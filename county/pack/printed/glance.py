"""All places in one table, as a file of its own where there are too many for the report."""

from collections.abc import Mapping
from dataclasses import asdict

from county.pack.about import About
from county.pack.printed.listing import listing
from county.pack.printed.parts_by_place import at_most
from county.pack.printed.typeset import pdf
from county.pack.printed.volumes import in_volume
from county.pack.record import Record
from county.pack.table import Table, text

GLANCE = "places_at_a_glance.pdf"


def glance_pdf(record: Record, about: About, places: Table, begins: Mapping[str, Mapping[str, int]]) -> bytes:
    """Every place in a line with where its day is printed; `places` is the subject of that name."""
    [part] = at_most(record, places)
    where = {at: in_volume(file, page) for file, pages in begins.items() for at, page in pages.items()}
    rows = tuple((*row, where[str(row[0])]) for row in part.table.rows)
    with_day = Table(places.name, places.title, places.says, (*places.columns, text("day", "Its day")), rows)
    told = {
        "about": asdict(about),
        "says": f"{places.says} Its day is on the page named last: 3: 41 is page 41 of the third volume.",
        "listing": listing(
            with_day, {**part.columns, "day": 3.8}, record.zone, day=record.plan.election.date, most=len(rows)
        ),
    }
    return pdf("glance", told)
