"""The tables as one XLSX workbook, a sheet a subject; the same tables make the same bytes."""

import io
import math
import re
import zipfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet._write_only import WriteOnlyWorksheet
from openpyxl.worksheet.page import PageMargins
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.writer.excel import ExcelWriter

from county.pack.formulas import may_be_a_formula
from county.pack.sheet_rows import LINE, PLAIN, SheetRows, Styles, cleaned, height
from county.pack.table import Cell, Column, Table
from county.pack.zipped import zip_parts

MOST_ROWS = 1_048_576 - 1
"""So many rows below the header can a sheet hold."""

_EVER = datetime(2000, 1, 1)  # noqa: DTZ001 (a file's stamp has no zone)
_HEAD = Font(bold=True, color="FFFFFF"), PatternFill("solid", fgColor="17222D")
_A_PAGE = 165
"""So many letters fit across a landscape page of US letter paper before they become too small to read."""
_LETTER = 1
_BOLD = 1.05
"""How wide a bold letter is to a figure."""
_PLAIN_STYLE = re.compile(rb"<xf ([^>]*)/>")
_END_OF_ROWS = b"</sheetData>"
_PLAIN_CELL = re.compile(rb'(<c r="[A-Z]+[0-9]+")(?! s=)')


def workbook(title: str, front: Sequence[str], tables: Sequence[Table], zone: ZoneInfo) -> bytes:
    """The workbook: `front` is the first sheet's lines; moments are wall time in this zone.

    Text stays text, also where it looks like a formula. What is too long for one sheet goes on in the next.
    """
    tables = [part for table in tables for part in _sheets(table)]
    book = Workbook(write_only=True)
    book.properties.title, book.properties.creator = title, "Pollrise"
    book.properties.created = book.properties.modified = _EVER
    _front(_printable(book.create_sheet("Read this first"), title), front, tables)
    bodies: dict[str, tuple[SheetRows, Table]] = {}
    for number, table in enumerate(tables, 2):
        sheet = _printable(book.create_sheet(_sheet_name(table)), title)
        _sheet(sheet, table)
        bodies[f"xl/worksheets/sheet{number}.xml"] = SheetRows(zone, _styles(sheet), _widths(table)), table
    written = io.BytesIO()
    # not packed yet: its parts are written once more below
    ExcelWriter(book, zipfile.ZipFile(written, "w", zipfile.ZIP_STORED)).save()
    return _same_stamps(written.getvalue(), bodies)


def _sheets(table: Table) -> list[Table]:
    """The table, in as many parts as it needs sheets."""
    starts = range(0, len(table.rows), MOST_ROWS) if table.rows else (0,)
    return [
        replace(table, title=f"{table.title} {n}" if n > 1 else table.title, rows=table.rows[start : start + MOST_ROWS])
        for n, start in enumerate(starts, 1)
    ]


def _front(sheet: WriteOnlyWorksheet, front: Sequence[str], tables: Sequence[Table]) -> None:
    sheet.column_dimensions["A"].width = 28
    sheet.column_dimensions["B"].width = 110
    for line in front[:1]:
        title = _text(sheet, line)
        title.font, title.alignment = Font(bold=True, size=14), Alignment(vertical="top")
        sheet.row_dimensions[1].height = 1.4 * LINE
        sheet.append([title])
    told: list[tuple[str, str]] = [("", line) for line in front[1:]] + [("", "")]
    told += [(_sheet_name(table), f"{_rows(len(table.rows))}. {table.says}") for table in tables]
    for row, (name, line) in enumerate(told, 1 + len(front[:1])):
        _high(sheet, row, (name, line), (28, 110))
        sheet.append([_link(sheet, name) if name else None, _text(sheet, line) if line else None])


def _link(sheet: WriteOnlyWorksheet, name: str) -> Any:
    link = _text(sheet, name)
    link.hyperlink = f"#'{name}'!A1"
    link.font = Font(color="0072B2", underline="single")
    return link


def _rows(count: int) -> str:
    return "1 row" if count == 1 else f"{count:,} rows"


def _sheet(sheet: WriteOnlyWorksheet, table: Table) -> None:
    """Everything of a sheet but its rows below the header."""
    sheet.freeze_panes = "B2"
    sheet.print_title_rows = "1:1"
    wide = _widths(table)
    for place, width in enumerate(wide, 1):
        sheet.column_dimensions[get_column_letter(place)].width = width
    across = math.ceil(sum(wide) / _A_PAGE)
    if across > 1:
        sheet.print_title_cols = "A:A"
        sheet.page_setup.fitToWidth = across
    if table.rows:
        sheet.auto_filter.ref = f"A1:{get_column_letter(len(table.columns))}{len(table.rows) + 1}"
    _high(sheet, 1, [column.title for column in table.columns], wide, _BOLD)
    sheet.append([_head(sheet, column) for column in table.columns])


def _widths(table: Table) -> list[int]:
    return [column.wide + 2 for column in table.columns]


def _styles(sheet: WriteOnlyWorksheet) -> Styles:
    """The workbook's numbers for the looks that rows are written with; made by making such a cell."""
    moment = WriteOnlyCell(sheet, _EVER)
    return Styles(WriteOnlyCell(sheet, 0).style_id, moment.style_id, _text(sheet, "=").style_id)


def _high(
    sheet: WriteOnlyWorksheet, row: int, cells: Sequence[Cell], wide: Sequence[int], letter: float = PLAIN
) -> None:
    if high := height(cells, wide, letter):
        sheet.row_dimensions[row].height = high


def _printable(sheet: WriteOnlyWorksheet, title: str) -> WriteOnlyWorksheet:
    """The sheet, still without a row: landscape, as wide as the paper, as long as it takes; its page at the foot."""
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    sheet.page_setup.orientation, sheet.page_setup.paperSize, sheet.page_setup.fitToHeight = "landscape", _LETTER, 0
    sheet.page_margins = PageMargins(left=0.4, right=0.4, top=0.6, bottom=0.6, header=0.3, footer=0.3)
    sheet.print_options.gridLines = True
    # an ampersand is a command to the page's head and foot
    sheet.oddHeader.left.text = title.replace("&", "&&")
    sheet.oddFooter.left.text, sheet.oddFooter.right.text = "&A", "Page &P of &N"
    return sheet


def _head(sheet: WriteOnlyWorksheet, column: Column) -> Any:
    cell = _text(sheet, column.title)
    cell.font, cell.fill = _HEAD
    return cell


def _text(sheet: WriteOnlyWorksheet, text: str) -> Any:
    """A cell that is text and stays it."""
    cell = WriteOnlyCell(sheet, cleaned(text))
    cell.data_type = "s"
    cell.quotePrefix = may_be_a_formula(text)
    return cell


def _sheet_name(table: Table) -> str:
    return table.title[:31]


def _same_stamps(book: bytes, bodies: Mapping[str, tuple[SheetRows, Table]]) -> bytes:
    """The same parts under one date, the sheets with their rows, so that equal workbooks are equal bytes."""
    written = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(book)) as parts, zipfile.ZipFile(written, "w") as again:
        zip_parts(_parts(parts, bodies), again)
    return written.getvalue()


def _parts(parts: zipfile.ZipFile, bodies: Mapping[str, tuple[SheetRows, Table]]) -> Iterator[tuple[str, bytes]]:
    for name in parts.namelist():
        content = parts.read(name)
        if name == "docProps/core.xml":
            content = re.sub(rb"(<dcterms:modified[^>]*>)[^<]*", rb"\g<1>2000-01-01T00:00:00Z", content)
        elif name == "xl/styles.xml":
            content = _looks(content)
        elif name.startswith("xl/worksheets/"):
            # cells name the style that they have, because not every spreadsheet takes it as understood
            content = _PLAIN_CELL.sub(rb'\1 s="0"', content)
        if name in bodies:
            before, after = content.split(_END_OF_ROWS)
            rows, table = bodies[name]
            content = b"".join((before, "".join(rows.xml(table.rows)).encode(), _END_OF_ROWS, after))
        yield name, content


def _looks(styles: bytes) -> bytes:
    """Every cell wrapped and set at the top, and moments with two figures for the hour.

    Done here, in the styles that plain cells share: a style of its own for each cell takes many times as long to write.
    """
    before, cells, after = re.split(rb"(<cellXfs.*?</cellXfs>)", styles, maxsplit=1, flags=re.DOTALL)
    cells = _PLAIN_STYLE.sub(rb'<xf \1 applyAlignment="1"><alignment vertical="top" wrapText="1"/></xf>', cells)
    return before.replace(b"yyyy-mm-dd h:mm:ss", b"yyyy-mm-dd hh:mm:ss") + cells + after
