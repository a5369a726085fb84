"""The tables as one XLSX workbook, a sheet a subject; the same tables make the same bytes."""

import io
import re
import zipfile
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet._write_only import WriteOnlyWorksheet

from county.pack.formulas import may_be_a_formula
from county.pack.table import Cell, Column, Table
from county.pack.zipped import zip_parts

MOST_ROWS = 1_048_576 - 1
"""So many rows below the header can a sheet hold."""

_LONGEST = 32_767
_NOT_ALLOWED = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]")
_EVER = datetime(2000, 1, 1)  # noqa: DTZ001 (a file's stamp has no zone)
_HEAD = Font(bold=True, color="FFFFFF"), PatternFill("solid", fgColor="17222D")


def workbook(title: str, front: Sequence[str], tables: Sequence[Table], zone: ZoneInfo) -> bytes:
    """The workbook: `front` is the first sheet's lines; moments are wall time in this zone.

    Text stays text, also where it looks like a formula. What is too long for one sheet goes on in the next.
    """
    tables = [part for table in tables for part in _sheets(table)]
    book = Workbook(write_only=True)
    book.properties.title, book.properties.creator = title, "Pollrise"
    book.properties.created = book.properties.modified = _EVER
    _front(book.create_sheet("Read this first"), front, tables)
    for table in tables:
        _sheet(book.create_sheet(_sheet_name(table)), table, zone)
    written = io.BytesIO()
    book.save(written)
    return _same_stamps(written.getvalue())


def _sheets(table: Table) -> list[Table]:
    """The table, in as many parts as it needs sheets."""
    starts = range(0, len(table.rows), MOST_ROWS) if table.rows else (0,)
    return [
        replace(table, title=f"{table.title} {n}" if n > 1 else table.title, rows=table.rows[start : start + MOST_ROWS])
        for n, start in enumerate(starts, 1)
    ]


def _front(sheet: WriteOnlyWorksheet, front: Sequence[str], tables: Sequence[Table]) -> None:
    sheet.column_dimensions["A"].width = 26
    sheet.column_dimensions["B"].width = 110
    for line in front:
        sheet.append([_text(sheet, line)])
    sheet.append([])
    for table in tables:
        link = _text(sheet, _sheet_name(table))
        link.hyperlink = f"#'{_sheet_name(table)}'!A1"
        link.font = Font(color="0072B2", underline="single")
        says = _text(sheet, f"{len(table.rows):,} {'row' if len(table.rows) == 1 else 'rows'}. {table.says}")
        says.alignment = Alignment(wrap_text=True, vertical="top")
        sheet.append([link, says])


def _sheet(sheet: WriteOnlyWorksheet, table: Table, zone: ZoneInfo) -> None:
    sheet.freeze_panes = "A2"
    for place, column in enumerate(table.columns, 1):
        sheet.column_dimensions[get_column_letter(place)].width = column.wide + 2
    if table.rows:
        sheet.auto_filter.ref = f"A1:{get_column_letter(len(table.columns))}{len(table.rows) + 1}"
    sheet.append([_head(sheet, column) for column in table.columns])
    for row in table.rows:
        sheet.append([_cell(sheet, value, zone) for value in row])


def _head(sheet: WriteOnlyWorksheet, column: Column) -> Any:
    cell = _text(sheet, column.title)
    cell.font, cell.fill = _HEAD
    cell.alignment = Alignment(wrap_text=True, vertical="top")
    return cell


def _cell(sheet: WriteOnlyWorksheet, value: Cell, zone: ZoneInfo) -> Any:
    if value is None:
        return None
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        # what begins with a # may be taken for an error's name, what is long is cut
        apart = may_be_a_formula(value) or value.startswith("#") or len(value) > 200
        return _text(sheet, value) if apart else _clean(value)
    # a plain value is written many times faster than a cell of its own, and a moment gets a date's form by itself
    return value.astimezone(zone).replace(tzinfo=None) if isinstance(value, datetime) else value


def _text(sheet: WriteOnlyWorksheet, text: str) -> Any:
    """A cell that is text and stays it."""
    cell = WriteOnlyCell(sheet, _clean(text))
    cell.data_type = "s"
    cell.quotePrefix = may_be_a_formula(text)
    return cell


def _clean(text: str) -> str:
    return _NOT_ALLOWED.sub("\ufffd", text)[:_LONGEST]


def _sheet_name(table: Table) -> str:
    return table.title[:31]


def _same_stamps(book: bytes) -> bytes:
    """The same parts in the same order under one date, so that equal workbooks are equal bytes."""
    written = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(book)) as parts, zipfile.ZipFile(written, "w") as again:
        zip_parts(_parts(parts), again)
    return written.getvalue()


def _parts(parts: zipfile.ZipFile) -> Iterator[tuple[str, bytes]]:
    for name in parts.namelist():
        content = parts.read(name)
        if name == "docProps/core.xml":
            content = re.sub(rb"(<dcterms:modified[^>]*>)[^<]*", rb"\g<1>2000-01-01T00:00:00Z", content)
        yield name, content
