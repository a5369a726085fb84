"""A table as it is printed: some of its columns, its values in words, and how many rows are left to the files."""

from collections.abc import Iterable, Mapping
from datetime import date, datetime
from zoneinfo import ZoneInfo

from county.pack.saying import clock
from county.pack.table import Cell, Shape, Table

NOT_TOLD = "not told"
_TO_THE_MINUTE = frozenset({"opens_at", "closes_at", "closes_if_given_back"})
_RIGHT = frozenset({"median", "ninetieth"})
"""What a plan or a roster sets is printed without seconds; these words are mostly numbers."""


def listing(
    table: Table,
    columns: Mapping[str, float],
    zone: ZoneInfo,
    *,
    day: date | None = None,
    most: int = 10_000,
    title: str = "",
    blank: str = "–",
) -> dict[str, object]:
    """The table with these columns, each so many letters wide (0: what is left), and at most `most` rows.

    A time of another day than `day` says how many days it is apart.
    """
    at = [next(n for n, column in enumerate(table.columns) if column.name == name) for name in columns]
    chosen = [table.columns[n] for n in at]
    return {
        "title": title,
        "file": f"csv/{table.name}.csv",
        "head": [column.title for column in chosen],
        "widths": [_wide(table, name, wide) for name, wide in columns.items()],
        "right": [column.shape is Shape.NUMBER or column.name in _RIGHT for column in chosen],
        "rows": [
            [
                shown(row[n], zone, blank, day=day, seconds=column.name not in _TO_THE_MINUTE)
                for n, column in zip(at, chosen, strict=True)
            ]
            for row in table.rows[:most]
        ],
        "more": max(0, len(table.rows) - most),
    }


def _wide(table: Table, name: str, wide: float) -> float:
    """A column's width; that of places' ids is as wide as they are, so that none runs into what is beside it."""
    if name != "place":
        return wide
    return max(wide, 0.55 * max((len(str(each)) for each in table.column(name)), default=0) + 0.9)


def rows_of(
    head: Iterable[str], widths: Iterable[float], rows: Iterable[Iterable[str]], right: int = 99
) -> dict[str, object]:
    """A small table of its own; columns from number `right` on are numbers."""
    names = list(head)
    return {
        "title": "",
        "file": "",
        "head": names,
        "widths": list(widths),
        "right": [n >= right for n in range(len(names))],
        "rows": [list(row) for row in rows],
        "more": 0,
    }


def shown(cell: Cell, zone: ZoneInfo, blank: str = "–", *, day: date | None = None, seconds: bool = True) -> str:
    """A value in words; a moment as wall time, to the second or the minute. `blank` for what nobody told."""
    if cell is None:
        return blank
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, datetime):
        return clock(cell, zone, seconds=seconds, day=day)
    if isinstance(cell, float):
        return f"{cell:,.1f}"
    return f"{cell:,}" if isinstance(cell, int) else cell
