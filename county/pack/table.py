"""A subject as a table: what CSV, workbook and report all write from."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

Cell = str | int | float | bool | datetime | None
"""One value; None is what nobody told, which is never 0. A moment is aware UTC."""
Row = tuple[Cell, ...]


class Shape(StrEnum):
    """What a column holds."""

    TEXT = "text"
    NUMBER = "number"
    MOMENT = "moment"


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its name in files, what people call it, what it holds, and about how many letters wide it is."""

    name: str
    title: str
    shape: Shape = Shape.TEXT
    wide: int = 12


@dataclass(frozen=True, slots=True)
class Table:
    """One subject. `says` is what the table tells and what it leaves out, in a sentence or two."""

    name: str
    title: str
    says: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]

    def at(self, name: str) -> int:
        """Where in a row the column with this name stands, from 0."""
        return [column.name for column in self.columns].index(name)

    def column(self, name: str) -> Row:
        """All values of the column with this name."""
        at = self.at(name)
        return tuple(row[at] for row in self.rows)


def text(name: str, title: str = "", wide: int = 12) -> Column:
    """A column of text."""
    return Column(name, title or _spoken(name), Shape.TEXT, wide)


def number(name: str, title: str = "", wide: int = 9) -> Column:
    """A column of numbers."""
    return Column(name, title or _spoken(name), Shape.NUMBER, wide)


def moment(name: str, title: str = "", wide: int = 20) -> Column:
    """A column of moments."""
    return Column(name, title or _spoken(name), Shape.MOMENT, wide)


def table(name: str, title: str, says: str, columns: Sequence[Column], rows: Sequence[Sequence[Cell]]) -> Table:
    """A table; ValueError where a row has not one cell for each column."""
    for row in rows:
        if len(row) != len(columns):
            raise ValueError(f"{name}: {len(row)} cells for {len(columns)} columns")
    return Table(name, title, says, tuple(columns), tuple(tuple(row) for row in rows))


def _spoken(name: str) -> str:
    words = name.replace("_", " ")
    return words[:1].upper() + words[1:]
