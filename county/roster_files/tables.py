"""The five roster tables, from CSV files to a roster and every problem found on the way."""

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from county.domain.roster import Roster
from county.errors import Problem
from county.delimited import BadRow, Unreadable, read_rows
from county.roster_files.checks import problems_between
from county.roster_files.layouts import LAYOUTS, Layout, layout_of
from county.roster_files.lines import Line, Lines


def read_tables(files: Sequence[Path]) -> tuple[Roster, tuple[Problem, ...]]:
    """Read roster tables, told apart by file name or header; a table may come in several files, or not at all.

    The roster holds what could be read. A problem's `field` is like `places.csv, row 12, column opens`; one that is
    no `warning` must keep the roster from being loaded.
    """
    lines = Lines()
    problems = [problem for file in files for problem in _read_file(file, lines)]
    problems += problems_between(lines)
    tables: dict[str, Any] = {each.name: tuple(line.value for line in lines.good(each.name)) for each in LAYOUTS}
    return Roster(**tables), tuple(problems)


def _read_file(file: Path, lines: Lines) -> Iterator[Problem]:
    try:
        data = file.read_bytes()
        if data.startswith(b"PK\x03\x04"):
            raise Unreadable("is a workbook; save each of its sheets as CSV")
        columns, rows = read_rows(data)
    except OSError as error:
        yield Problem(file.name, f"cannot be opened: {error.strerror}")
    except Unreadable as error:
        yield Problem(file.name, str(error))
    else:
        header = Line(file.name, 1, None)
        layout = layout_of(file.stem, columns)
        if layout is None:
            wanted = "; ".join(f"{each.name} ({', '.join(each.needed)})" for each in LAYOUTS)
            yield header.problem("", f"is the header of no table of the roster; they need {wanted}")
        else:
            yield from _header_problems(header, layout, columns)
            if set(layout.needed) <= set(columns):
                yield from _read_rows(file.name, layout, rows, lines)


def _header_problems(header: Line, layout: Layout, columns: list[str]) -> Iterator[Problem]:
    for name in layout.needed:
        if name not in columns:
            yield header.problem(name, f"is missing; {layout.name} cannot be read without it")
    for name in columns:
        if name not in layout.columns:
            yield header.problem(name, f"means nothing in {layout.name} and is left out", warning=True)


def _read_rows(
    file: str, layout: Layout, rows: Iterator[tuple[int, dict[str, str] | BadRow]], lines: Lines
) -> Iterator[Problem]:
    lines.tables.setdefault(layout.name, {})
    for number, row in rows:
        line = Line(file, number, None)
        if isinstance(row, BadRow):
            yield line.problem("", row.says)
            continue
        values, problems = _read_cells(line, layout, row)
        yield from problems
        key = tuple(str(values.get(name, row[name])) for name in layout.ids)
        first = lines.keep(layout.name, key, Line(file, number, None if problems else layout.make(**values)))
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
