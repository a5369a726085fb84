"""The five roster tables: from rows to values, and every problem found on the way."""

from collections.abc import Iterator, Mapping, Sequence

from county import delimited
from county.delimited import BadRow, Record, Row
from county.errors import Problem
from county.roster_files import cells
from county.roster_files.grids import Grid
from county.roster_files.layouts import LAYOUTS, Layout, layout_of
from county.roster_files.lines import Line, Lines

_IDS = (cells.identifier,)
_MOSTLY = 0.5


def table_layout(grid: Grid, records: Sequence[Record]) -> Layout | None:
    """The roster table a grid is: named so, or with its columns and ids that are ids; None where it is another list."""
    _, header = records[0] if records else (0, [])
    columns = [cell.strip().lower() for cell in header] if isinstance(header, list) else []
    layout = layout_of(grid.name, columns)
    if layout is None:
        return None
    named = layout.name == grid.name.casefold()
    theirs = sum(column in layout.columns for column in columns if column)
    if named and theirs * 2 >= len([column for column in columns if column]):
        return layout
    if not set(layout.needed) <= set(columns):
        return None
    return layout if _ids_are_ids(layout, columns, records[1:51]) else None


def read_table(grid: Grid, layout: Layout, records: Sequence[Record], lines: Lines) -> Iterator[Problem]:
    """Put a table's rows among the lines. Raises Unreadable where its header cannot be read."""
    columns, rows = delimited.rows_of(records)
    header = Line(grid.file, 1, None)
    for name in layout.needed:
        if name not in columns:
            yield header.problem(name, f"is missing; {layout.name} cannot be read without it")
    for name in columns:
        if name not in layout.columns:
            yield header.problem(name, f"means nothing in {layout.name} and is left out", warning=True)
    if set(layout.needed) <= set(columns):
        yield from _read_rows(grid.file, layout, rows, lines)


def wanted() -> str:
    """What a table needs, for the message about a file that is none."""
    return "; ".join(f"{each.name} ({', '.join(each.needed)})" for each in LAYOUTS)


def _ids_are_ids(layout: Layout, columns: Sequence[str], records: Sequence[Record]) -> bool:
    """A county's own list may have columns of the same names; there the place is a name, not an id."""
    places = [columns.index(name) for name in layout.needed if layout.columns[name] in _IDS]
    said = [row[n].strip() for _, row in records if isinstance(row, list) for n in places if n < len(row)]
    good = sum(_is_id(cell) for cell in said if cell)
    return good >= _MOSTLY * len([cell for cell in said if cell])


def _is_id(cell: str) -> bool:
    try:
        return bool(cells.identifier(cell))
    except ValueError:
        return False


def _read_rows(file: str, layout: Layout, rows: Iterator[Row], lines: Lines) -> Iterator[Problem]:
    lines.tables.setdefault(layout.name, {})
    for number, row in rows:
        line = Line(file, number, None)
        if isinstance(row, BadRow):
            yield line.problem("", row.says)
            continue
        values, problems = _read_cells(line, layout, row)
        yield from problems
        key = tuple(str(values.get(name, row[name])) for name in layout.ids)
        first = lines.keep(layout.name, key, line.with_value(None if problems else layout.make(**values)))
        if first:
            yield line.problem(layout.ids[-1], f"{' '.join(key)} is already in {first.file}, row {first.row}")


def _read_cells(line: Line, layout: Layout, row: Mapping[str, str]) -> tuple[dict[str, object], list[Problem]]:
    values: dict[str, object] = {}
    problems: list[Problem] = []
    for column, read in layout.columns.items():
        cell = row.get(column, "")
        if column in layout.needed and not cell.strip():
            problems.append(line.problem(column, "is empty"))
            continue
        try:
            values[column] = read(cell)
        except ValueError as error:
            problems.append(line.problem(column, str(error)))
    return values, problems
