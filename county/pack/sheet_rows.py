"""Rows of a sheet as a spreadsheet's own XML (ISO/IEC 29500-1, 18.3.1), for tables of many rows.

A library that makes an object of each cell takes a minute for the ledger of a large county, this takes seconds. Text is
inline and marked as text, so that none of it becomes a formula; a moment is a number of days (18.17.4.1) in its style.
"""

import math
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from openpyxl.utils import get_column_letter

from county.pack.formulas import may_be_a_formula
from county.pack.table import Cell

LINE, HIGHEST, PLAIN = 15.0, 405.0, 0.88
"""Points a line, the most points a row may have, and how wide a plain letter is to a figure."""

_LONGEST = 32_767
_NOT_ALLOWED = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]")
_MARKS = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", "\r": "&#13;"})
_TO_ESCAPE = re.compile("[&<>\r]")
_DAY_0, _DAY = datetime(1899, 12, 30), timedelta(days=1)  # noqa: DTZ001 (wall time, as sheets have it)
_SHORT = 20
"""A text so short is looked up and not made anew: ids, kinds and effects come again and again."""


@dataclass(frozen=True, slots=True)
class Styles:
    """The numbers that a workbook has for three looks of a cell."""

    plain: int
    moment: int
    text_only: int


@dataclass(frozen=True, slots=True)
class SheetRows:
    """Makes the rows of one sheet; `wide` are its columns' widths in figures, moments are wall time in this zone."""

    zone: ZoneInfo
    styles: Styles
    wide: Sequence[int]
    _seen: dict[Cell, str] = field(default_factory=dict)

    def xml(self, rows: Iterable[Sequence[Cell]], first: int = 2) -> Iterator[str]:
        """Each row's XML, the first of them in this row of the sheet."""
        letters = [get_column_letter(n) for n in range(1, len(self.wide) + 1)]
        for number, row in enumerate(rows, first):
            cells = "".join(
                [
                    f'<c r="{letter}{number}"{self._cell(value)}'
                    for letter, value in zip(letters, row, strict=True)
                    if value is not None and value != ""
                ]
            )
            yield f'<row r="{number}"{self._height(row)}>{cells}</row>'

    def _height(self, row: Sequence[Cell]) -> str:
        high = height(row, self.wide)
        return f' ht="{high:g}" customHeight="1"' if high else ""

    def _cell(self, value: Cell) -> str:
        """What follows a cell's address: its style, its type and its value."""
        if isinstance(value, str):
            return self._text(value) if len(value) > _SHORT else self._kept(value)
        if isinstance(value, bool):
            return self._kept("yes" if value else "no")
        if isinstance(value, datetime):
            return self._kept(value)
        return f' s="{self.styles.plain}" t="n"><v>{value!r}</v></c>'

    def _kept(self, value: str | datetime) -> str:
        found = self._seen.get(value)
        if found is None:
            found = self._seen[value] = self._text(value) if isinstance(value, str) else self._moment(value)
        return found

    def _text(self, value: str) -> str:
        style = self.styles.text_only if may_be_a_formula(value) else self.styles.plain
        said = cleaned(value)
        kept = ' xml:space="preserve"' if said != said.strip() or "\n" in said else ""
        said = said.translate(_MARKS) if _TO_ESCAPE.search(said) else said
        return f' s="{style}" t="inlineStr"><is><t{kept}>{said}</t></is></c>'

    def _moment(self, value: datetime) -> str:
        wall = value.astimezone(self.zone).replace(tzinfo=None)
        return f' s="{self.styles.moment}" t="n"><v>{(wall - _DAY_0) / _DAY!r}</v></c>'


def height(row: Sequence[Cell], wide: Sequence[int], letter: float = PLAIN) -> float:
    """How many points high a row has to be for its longest text, 0 for one line.

    Not every spreadsheet finds that out by itself.
    """
    lines = 1
    for cell, room in zip(row, wide, strict=True):
        if cell.__class__ is str and len(cell) * letter > room:
            # words are not broken, so that lines do not fill up
            lines = max(lines, math.ceil(1.08 * len(cell) * letter / room))
    return min(LINE * lines, HIGHEST) if lines > 1 else 0.0


def cleaned(text: str) -> str:
    """The text without what no sheet can hold, and no longer than a cell may be."""
    return _NOT_ALLOWED.sub("\ufffd", text)[:_LONGEST]
