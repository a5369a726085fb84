"""Where each row of the roster files stands, so that a problem can be shown by file, row and column."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from county.errors import Problem


@dataclass(frozen=True, slots=True)
class RowProblem(Problem):
    """A problem and where it stands: file (with its sheet), row from 1 (0 for the whole file), column or empty."""

    file: str = ""
    row: int = 0
    column: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """One row of a file, and the value read from it; None where it could not be read.

    `columns` says what the file itself calls a column, where that is not the roster's own name for it; `unit` is what
    its rows are called.
    """

    file: str
    row: int
    value: Any
    columns: Mapping[str, str] = field(default_factory=dict)
    unit: str = "row"

    def problem(self, column: str, says: str, *, warning: bool = False) -> Problem:
        """A problem of this row, at a column or of the whole row."""
        shown = self.columns.get(column, column)
        at = f"{self.file}, {self.unit} {self.row}" + (f", column {shown}" if shown else "")
        return RowProblem(at, says, warning, self.file, self.row, shown)

    def with_value(self, value: object) -> "Line":
        """The same row with the value read from it."""
        return replace(self, value=value)


def of_file(file: str, says: str, *, warning: bool = False) -> Problem:
    """A problem of a whole file."""
    return RowProblem(file, says, warning, file)


@dataclass(slots=True)
class Lines:
    """Every row read so far, by table and id; rows that could not be read too, so that they are not missed."""

    tables: dict[str, dict[tuple[str, ...], Line]] = field(default_factory=dict)

    def keep(self, table: str, key: tuple[str, ...], line: Line) -> Line | None:
        """Keep a row, unless its id is there already: then the row that has it is given back."""
        first = self.tables.setdefault(table, {}).setdefault(key, line)
        return first if first is not line else None

    def ids(self, table: str) -> set[str] | None:
        """The ids of a table with one id column; None where no file held the table."""
        return {key[0] for key in self.tables[table]} if table in self.tables else None

    def good(self, table: str) -> Iterator[Line]:
        """The rows of a table that could be read, in their order."""
        return (line for line in self.tables.get(table, {}).values() if line.value is not None)
