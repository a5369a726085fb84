"""A table as it is printed: some of its columns, its values in words, and how many rows are left to the files."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date, datetime
from zoneinfo import ZoneInfo

from county.domain.wall import Wall
from county.pack.table import Cell, Shape, Table

NOT_TOLD = "not told"
_TO_THE_MINUTE = frozenset({"opens_at", "closes_at", "closes_if_given_back"})
_RIGHT = frozenset({"median", "ninetieth"})
"""What a plan or a roster sets is printed without seconds; these words are mostly numbers."""
_SHARES = frozenset({"said", "came", "brier", "base_brier", "skill", "band_held"})
_LONG = 20
_MARGINS, _THIN = 0.85, 0.3


def listing(
    table: Table,
    columns: Mapping[str, float],
    zone: ZoneInfo,
    *,
    day: date | None = None,
    most: int = 10_000,
    title: str = "",
    says: str = "",
    blank: str = "–",
) -> dict[str, object]:
    """The table with these columns, each so many letters wide (0: what is left), and at most `most` rows.

    A time of another day than `day` says how many days it is apart. `says` is printed above it.
    """
    columns, silent = _told_of(table, columns, most)
    if silent:
        says = f"{says} Empty in every row here, so left out: {', '.join(silent)}.".strip()
    at = [table.at(name) for name in columns]
    chosen = [table.columns[n] for n in at]
    rows = [
        [
            shown(
                *(row[n], zone, blank),
                day=day,
                seconds=column.name not in _TO_THE_MINUTE,
                decimals=3 if column.name in _SHARES else 1,
            )
            for n, column in zip(at, chosen, strict=True)
        ]
        for row in table.rows[:most]
    ]
    more = len(table.rows) - len(rows)
    return {
        "title": title,
        "says": says,
        "head": [column.title for column in chosen],
        "widths": [wide and _wide(wide, (row[n] for row in rows)) for n, wide in enumerate(columns.values())],
        "right": [column.shape is Shape.NUMBER or column.name in _RIGHT for column in chosen],
        "rows": rows,
        "more": f"{more:,} more in csv/{table.name}.csv, and in the workbook's sheet “{table.title}”." if more else "",
    }


def _told_of(table: Table, columns: Mapping[str, float], most: int) -> tuple[Mapping[str, float], list[str]]:
    """The columns of a long table in which anything stands, and the titles of those left out because nothing does."""
    if len(table.rows) < _LONG:
        return columns, []
    told = {name: wide for name, wide in columns.items() if not wide or any(_is_told(table, name, most))}
    return told, [table.columns[table.at(name)].title for name in columns if name not in told]


def _is_told(table: Table, name: str, most: int) -> Iterator[bool]:
    return (cell is not None for cell in table.column(name)[:most])


def _wide(wide: float, said: Iterable[str]) -> float:
    """A column's width, or what its longest word takes, so that none runs into what is beside it."""
    words = {word for each in said for word in each.split(" ")}
    return round(max(wide, _MARGINS + max(map(_letters, words), default=0.0)), 1)


def _letters(word: str) -> float:
    """How wide a word is in the pack's type, in its size: at most so much."""
    return sum(0.72 if each.isupper() else _THIN if each in ".,:;’'il|–- \u00a0" else 0.52 for each in word)


def rows_of(
    head: Iterable[str], widths: Iterable[float], rows: Iterable[Iterable[str]], right: int = 99, says: str = ""
) -> dict[str, object]:
    """A small table of its own; columns from number `right` on are numbers."""
    names = list(head)
    return {
        "title": "",
        "says": says,
        "head": names,
        "widths": list(widths),
        "right": [n >= right for n in range(len(names))],
        "rows": [list(row) for row in rows],
        "more": "",
    }


def shown(
    cell: Cell, zone: ZoneInfo, blank: str = "–", *, day: date | None = None, seconds: bool = True, decimals: int = 1
) -> str:
    """A value in words; a moment as wall time, to the second or the minute. `blank` for what nobody told."""
    if cell is None:
        return blank
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, datetime):
        wall = Wall(zone, day)
        return wall.second(cell) if seconds else wall.minute(cell)
    if isinstance(cell, float):
        return f"{cell:,.{decimals}f}"
    return f"{cell:,}" if isinstance(cell, int) else cell
