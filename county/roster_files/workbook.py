"""The sheets of an XLSX workbook as grids: dates, times and numbers as text, merged cells filled."""

import re
import zipfile
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from functools import partial
from io import BytesIO
from typing import Any

from county.delimited import Record, Unreadable
from county.roster_files.files import RosterFile
from county.roster_files.grids import MOST_COLUMNS, MOST_ROWS, Grid
from county.roster_files.packed import refuse_bomb, unpacked
from county.roster_files.safe_xml import read_xml

_RANGE = re.compile(r"([A-Z]{1,3})(\d{1,7}):([A-Z]{1,3})(\d{1,7})")
_FAULT = re.compile(r"#(?:N/A|REF!|VALUE!|DIV/0!|NAME\?|NULL!|NUM!)")
_FIRST_DAYS = (date(1899, 12, 30), date(1899, 12, 31), date(1900, 1, 1))
"""A time of day alone is kept as one of a spreadsheet's first days."""

Filled = dict[tuple[int, int], tuple[int, int]]
"""A cell (row, column from 0) to the cell whose value stands for it."""


def workbook_grids(file: RosterFile) -> list[Grid]:
    """Every sheet that is shown and not empty. Raises Unreadable."""
    # a tenth of a second to import, and of use to few commands
    from openpyxl import load_workbook

    with file.open() as source:
        data = source.read()
    merged = _guarded(file)
    try:
        book = load_workbook(BytesIO(data), read_only=True, data_only=True, keep_links=False)
        sheets = [each for each in book.worksheets if each.sheet_state == "visible"]
        grids = [Grid(file.name, each.title, _records(each, merged), "") for each in sheets]
        listed = [Grid(grid.file, grid.name, grid.listed()) for grid in grids]
    except Unreadable:
        raise
    # a workbook that somebody's program wrote wrongly fails in as many ways as there are parts to it
    except (KeyError, ValueError, TypeError, IndexError, AttributeError, zipfile.BadZipFile, SyntaxError) as error:
        raise Unreadable(f"cannot be read as a workbook ({type(error).__name__}); save it as CSV") from None
    return [grid for grid in listed if any(any(cells) for _, cells in grid.listed() if isinstance(cells, list))]


def _guarded(file: RosterFile) -> dict[str, Filled]:
    """Look through every part before it is handed on, and note which cells are merged, by the part's name."""
    merged: dict[str, Filled] = {}
    with unpacked(file) as archive:
        parts = [part for part in archive.infolist() if part.filename.casefold().endswith((".xml", ".rels"))]
        refuse_bomb(parts)
        for part in parts:
            filled: Filled = {}
            merged[part.filename] = filled
            with archive.open(part) as source:
                read_xml(source, partial(_note, filled), lambda _: None, lambda _: None)
    return merged


def _note(into: Filled, name: str, attributes: dict[str, str], _: int) -> None:
    found = _RANGE.fullmatch(attributes.get("ref", "")) if name == "mergeCell" else None
    if not found:
        return
    top, left, bottom, right = int(found[2]), _column(found[1]), int(found[4]), _column(found[3])
    # a title over all columns is a title, and stays in one cell
    if left != right or bottom - top > MOST_ROWS:
        return
    for row in range(top + 1, bottom + 1):
        into[row, left] = top, left


def _records(sheet: Any, merged: dict[str, Filled]) -> Iterator[Record]:
    filled = merged.get(str(getattr(sheet, "_worksheet_path", "")), {})
    sources = set(filled.values())
    kept: dict[tuple[int, int], str] = {}
    sheet.reset_dimensions()
    rows = sheet.iter_rows(values_only=True, max_col=MOST_COLUMNS, max_row=MOST_ROWS + 1)
    for number, values in enumerate(rows, 1):
        cells = [_text(value) for value in values] if any(value is not None for value in values) else []
        for column in range(len(cells)) if filled else ():
            if (number, column) in sources:
                kept[number, column] = cells[column]
            elif (number, column) in filled:
                cells[column] = cells[column] or kept.get(filled[number, column], "")
        while cells and not cells[-1]:
            cells.pop()
        yield number, cells


def _text(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() and abs(value) < 1e15 else repr(value)
    if isinstance(value, datetime):
        return value.time().isoformat() if value.date() in _FIRST_DAYS else value.isoformat(" ")
    if isinstance(value, date | time):
        return value.isoformat()
    if isinstance(value, timedelta):
        minutes = round(value.total_seconds() / 60)
        return f"{minutes // 60:02}:{minutes % 60:02}"
    said = str(value)
    return "" if _FAULT.fullmatch(said) else said


def _column(letters: str) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - ord("A") + 1
    return number - 1
