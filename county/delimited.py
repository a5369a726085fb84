"""A table in a text file, whatever spreadsheet wrote it: encoding, delimiter, quoting (RFC 4180)."""

import csv
import io
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from county.errors import PollriseError

DELIMITERS = (",", ";", "\t")
_BOMS = ((b"\xef\xbb\xbf", "utf-8"), (b"\xff\xfe", "utf-16-le"), (b"\xfe\xff", "utf-16-be"))
_UNREADABLE = re.compile("[\0\ud800-\udfff]")


class Unreadable(PollriseError):
    """A file that is no table at all: empty, no header, a header that cannot be read or says a column twice."""


@dataclass(frozen=True, slots=True)
class BadRow:
    """A row that cannot be read; `cells` are its values as far as they could be told apart, fit to be written."""

    says: str
    cells: tuple[str, ...]


Record = tuple[int, list[str] | BadRow]
Row = tuple[int, dict[str, str] | BadRow]


def read_rows(data: bytes) -> tuple[list[str], Iterator[Row]]:
    """Read the column names (lower case) and then row by row, so that one bad row does not cost the others.

    Rows are numbered as a spreadsheet shows them: the header is row 1. Each good row holds every column as text,
    untrimmed, "" where the row is short; empty rows are passed over but counted. Raises Unreadable for the whole file.
    """
    text = decode(data)
    return rows_of(records(text, _delimiter(text)))


def rows_of(numbered: Iterable[Record]) -> tuple[list[str], Iterator[Row]]:
    """The same from records that were read before: the first is the header. Raises Unreadable."""
    rest = iter(numbered)
    _, header = next(rest, (0, BadRow("the file is empty", ())))
    columns = _columns(header)
    return columns, ((number, _row(columns, cells)) for number, cells in rest if not _empty(cells))


def decode(data: bytes) -> str:
    """Text of UTF-8 or UTF-16, told apart by mark or ASCII header; bytes that fit neither turn surrogates."""
    for mark, encoding in _BOMS:
        if data.startswith(mark):
            return _decode(data[len(mark) :], encoding)
    head = data[:8]
    if len(head) >= 4 and not any(head[1::2]):
        return _decode(data, "utf-16-le")
    if len(head) >= 4 and not any(head[0::2]):
        return _decode(data, "utf-16-be")
    return _decode(data, "utf-8")


def _decode(data: bytes, encoding: str) -> str:
    if encoding == "utf-8":
        return data.decode(encoding, "surrogateescape")
    whole = len(data) // 2 * 2
    return data[:whole].decode(encoding, "surrogatepass") + data[whole:].decode("ascii", "surrogateescape")


def _delimiter(text: str) -> str:
    """The delimiter that splits the header into most columns.

    Where none does, there is one column: then the one that splits no row either, so that its values stay whole.
    """
    first = io.StringIO(text[:65_536], newline="").readline()
    most = max(DELIMITERS, key=lambda delimiter: len(_split(first, delimiter)))
    if len(_split(first, most)) > 1:
        return most
    return next((each for each in DELIMITERS if _splits_nothing(text, each)), DELIMITERS[0])


def _splits_nothing(text: str, delimiter: str) -> bool:
    return all(isinstance(cells, BadRow) or len(cells) < 2 for _, cells in records(text, delimiter))


def _split(line: str, delimiter: str) -> list[str]:
    return next(csv.reader([line], delimiter=delimiter), [])


class _Lines:
    """Lines of a text that remember what was taken since the last mark and can take it back."""

    def __init__(self, text: str) -> None:
        self._source = io.StringIO(text, newline="")
        self._back: list[str] = []
        self.taken: list[str] = []

    def __iter__(self) -> Iterator[str]:
        return self

    def __next__(self) -> str:
        line = self._back.pop() if self._back else next(self._source)
        self.taken.append(line)
        return line

    def keep_first_only(self) -> str:
        """Give back all lines taken but the first, and return that."""
        self._back.extend(reversed(self.taken[1:]))
        return self.taken[0]


def records(text: str, delimiter: str) -> Iterator[Record]:
    """Records numbered from 1. Where quoting is broken only the line it began on is lost, not all that follows."""
    lines = _Lines(text)
    reader = csv.reader(lines, delimiter=delimiter, strict=True)
    number = 0
    while True:
        lines.taken.clear()
        number += 1
        try:
            yield number, next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            line = lines.keep_first_only().rstrip("\r\n")
            yield number, BadRow(_why(error), (_writable(line),))


def _why(error: csv.Error) -> str:
    said = str(error)
    if "field limit" in said:
        return "a value is too long, or a quotation mark is never closed"
    return "a quotation mark is never closed" if "end of data" in said else "a quotation mark in the wrong place"


def _columns(header: list[str] | BadRow) -> list[str]:
    if isinstance(header, BadRow):
        raise Unreadable(f"row 1: {header.says}")
    columns = [name.strip().lower() for name in header]
    while columns and not columns[-1]:
        columns.pop()
    if not columns:
        raise Unreadable("row 1: no column names")
    for position, name in enumerate(columns, 1):
        if not name:
            raise Unreadable(f"row 1: column {position} has no name")
        if _UNREADABLE.search(name):
            raise Unreadable(f"row 1: column {position} cannot be read: {_unreadable(name)}")
        if name in columns[: position - 1]:
            raise Unreadable(f"row 1: column {name} is there twice")
    return columns


def _empty(cells: list[str] | BadRow) -> bool:
    return not isinstance(cells, BadRow) and not any(cell.strip() for cell in cells)


def _row(columns: list[str], cells: list[str] | BadRow) -> dict[str, str] | BadRow:
    if isinstance(cells, BadRow):
        return cells
    surplus = [cell for cell in cells[len(columns) :] if cell.strip()]
    if surplus:
        says = f"more values than the {len(columns)} columns of the header"
        return BadRow(says, tuple(map(_writable, cells)))
    values = dict(zip(columns, cells + [""] * (len(columns) - len(cells)), strict=False))
    for column, value in values.items():
        if _UNREADABLE.search(value):
            return BadRow(f"column {column}: {_unreadable(value)}", tuple(map(_writable, cells)))
    return values


def _unreadable(value: str) -> str:
    """What is wrong with text holding a NUL or a surrogate."""
    if "\0" in value:
        return "holds a NUL character"
    odd = ord(_UNREADABLE.findall(value)[0])
    if 0xDC80 <= odd <= 0xDCFF:
        return f'holds a byte (0x{odd - 0xDC00:02X}) that is not UTF-8; save the file as "CSV UTF-8"'
    return "holds half a character"


def _writable(cell: str) -> str:
    """The cell with what no encoding can hold written as an escape."""
    return cell.encode("utf-8", "backslashreplace").decode().replace("\0", "\\x00")
