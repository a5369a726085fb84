"""What is printed of a section's tables: parts with titles, their columns, and words where a file has keys."""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType

from county.domain.milestones import Milestone
from county.pack.printed.printed_columns import PRINTED
from county.pack.record import Record
from county.pack.table import Cell, Table, number, table, text

Part = tuple[str, Table, Mapping[str, float]]
_OF_A_KIND = (Milestone.ACKNOWLEDGED.value, Milestone.ON_SITE.value, Milestone.CLEARED.value)
_ARRIVED = "arrived"


def printed_parts(record: Record, tables: list[Table]) -> Iterator[Part]:
    """Each table of a section as it is printed: its title (none for the section's own), its rows, its columns."""
    for nth, each in enumerate(tables):
        made = _MADE.get(each.name)
        if made:
            yield from made(record, each)
        else:
            yield each.title if nth else "", each, PRINTED[each.name]


def _waits(record: Record, waits: Table) -> Iterator[Part]:
    """Response times in a part for each way they are told apart; kinds in the plan's words."""
    columns = PRINTED[waits.name]
    for by in ("all cases", "effect", "kind", "zone"):
        rows = [row for row in waits.rows if row[0] == by and (by != "kind" or row[2] in _OF_A_KIND)]
        if by == "kind":
            rows = [(row[0], record.plan.kind(str(row[1])).says, *row[2:]) for row in rows]
        if by == "all cases":
            yield (
                "All cases",
                replace(waits, rows=tuple(rows)),
                {n: w or 12 for n, w in columns.items() if n != "group"},
            )
        else:
            yield f"By {by}", replace(waits, rows=tuple(rows)), columns


def _at_most(record: Record, some: Table) -> Iterator[Part]:
    """Minutes of a place that was not reported open are the most it can have been, and say so."""
    names = [column.name for column in some.columns]
    minutes = [names.index(name) for name in ("late_minutes", "minutes", "lost_minutes") if name in names]
    opened = names.index("opened_at")
    rows = tuple(
        row
        if row[opened] is not None
        else tuple(f"at most {cell:,}" if n in minutes and cell else cell for n, cell in enumerate(row))
        for row in some.rows
    )
    yield "", replace(some, rows=rows), PRINTED[some.name]


def _missing(record: Record, missing: Table) -> Iterator[Part]:
    """What is missing, with the county named where it is of no one place."""
    rows = tuple((row[0] or "the county", *row[1:]) for row in missing.rows)
    yield "", replace(missing, rows=rows), PRINTED[missing.name]


def _notices(record: Record, notices: Table) -> Iterator[Part]:
    """How many there were for each role, and one by one those that are not known to have arrived."""
    counted = Counter(zip(notices.column("role"), notices.column("became"), strict=True))
    rows: list[tuple[Cell, ...]] = [(role, became, counted[role, became]) for role, became in sorted(counted, key=str)]
    columns = (text("role", "For"), text("became", "What became of them"), number("how_many", "Notices"))
    says = "How many notices there were."
    yield "", table("notices", "Notices", says, columns, rows), {"role": 12, "became": 0, "how_many": 8}
    became = [column.name for column in notices.columns].index("became")
    left = tuple(row for row in notices.rows if row[became] != _ARRIVED)
    yield "Not known to have arrived, or nobody on shift", replace(notices, rows=left), PRINTED["notices"]


_MADE: Mapping[str, Callable[[Record, Table], Iterator[Part]]] = MappingProxyType(
    {
        "response_times": _waits,
        "late_openings": _at_most,
        "time_lost": _at_most,
        "places": _at_most,
        "notices": _notices,
        "missing": _missing,
    }
)
