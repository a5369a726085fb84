"""Who was told of which case, when, by what channel, and whether it arrived."""

from county.domain.notices import Fact, Notice
from county.pack.record import Record
from county.pack.table import Cell, Table, moment, number, table, text

COLUMNS = (
    text("place", wide=8),
    text("case", wide=30),
    text("role", wide=12),
    text("person", wide=16),
    text("channel", wide=12),
    moment("due_at", "Due"),
    moment("owed_at", "Written down"),
    text("became", "What became of it", 16),
    moment("at", "When"),
    number("seconds", "Seconds from due to arrived"),
    text("late", "Known late"),
)
_BECAME = {
    Fact.ARRIVED: "arrived",
    Fact.FAILED: "did not arrive",
    Fact.OWED: "not known: no word of it",
    Fact.NOBODY: "nobody on shift",
}


def notices(record: Record) -> Table:
    """One row a notice, in the order of places and time."""
    says = (
        "Everybody whom the ladder told of a case, or that nobody was on shift for a role. Arrived means that the "
        "channel took it; whether a person read it is not known."
    )
    rows = [_row(place, each) for place, state in record.picture.places.items() for each in state.notices]
    return table("notices", "Notices", says, COLUMNS, rows)


def _row(place: str, each: Notice) -> list[Cell]:
    arrived = each.fact is Fact.ARRIVED
    return [
        *(place, each.case, each.role, each.person or None, each.channel or None, each.due_at, each.owed_at),
        _BECAME[each.fact],
        each.at if each.fact in (Fact.ARRIVED, Fact.FAILED) else None,
        int((each.at - each.due_at).total_seconds()) if arrived else None,
        each.late,
    ]
