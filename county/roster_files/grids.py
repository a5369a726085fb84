"""A grid: the rows of one table as they stand in a file, before anybody asks what they mean."""

from collections.abc import Iterable
from dataclasses import dataclass

from county import delimited
from county.delimited import BadRow, Record, Unreadable
from county.roster_files.files import LARGEST_TABLE, MB, RosterFile

MOST_ROWS = 100_000
MOST_COLUMNS = 256
_DELIMITERS = (*delimited.DELIMITERS, "|")


@dataclass(frozen=True, slots=True)
class Grid:
    """One table: the file it is in, its name there, and its records with their row numbers as a spreadsheet shows them.

    `says` is what had to be assumed to read it at all.
    """

    file: str
    name: str
    records: Iterable[Record]
    says: str = ""

    def listed(self) -> list[Record]:
        """Every record at once. Raises Unreadable where there are far too many."""
        found: list[Record] = []
        for record in self.records:
            if len(found) >= MOST_ROWS:
                raise Unreadable(f"has more than {MOST_ROWS:,} rows; no county's list has so many")
            found.append(record)
        return found


def text_grid(file: RosterFile) -> Grid:
    """The table of a text file, in whatever encoding and with whatever delimiter. Raises Unreadable."""
    if file.size > LARGEST_TABLE:
        most = LARGEST_TABLE // MB
        raise Unreadable(f"has {file.size / MB:,.0f} MB; a list of places and precincts has {most} MB at most")
    with file.open() as opened:
        text, says = _decoded(opened.read())
    return Grid(file.name, file.stem, delimited.records(text, _delimiter(text)), says)


def _decoded(data: bytes) -> tuple[str, str]:
    text = delimited.decode(data)
    if "\0" in text[:4096]:
        raise Unreadable("is no text; save it as CSV or XLSX")
    if not any("\udc80" <= each <= "\udcff" for each in _beyond_ascii(text)):
        return text, ""
    try:
        return data.decode("cp1252"), "is not UTF-8 and is read as Windows-1252; look at letters with accents"
    except UnicodeDecodeError:
        return text, ""


def _beyond_ascii(text: str) -> set[str]:
    return set() if text.isascii() else set(text)


def _delimiter(text: str) -> str:
    """The delimiter that parts most rows into the same number of cells, so that a title above does not mislead."""
    begin = "".join(text[:65_536].splitlines(keepends=True)[:200])
    return max(_DELIMITERS, key=lambda each: _parted(begin, each))


def _parted(text: str, delimiter: str) -> tuple[int, int]:
    """How many rows have the commonest number of cells above one, times that number."""
    counts = [len(cells) for _, cells in delimited.records(text, delimiter) if not isinstance(cells, BadRow)]
    several = [count for count in counts if count > 1]
    if not several:
        return 0, 0
    commonest = max(set(several), key=lambda count: (several.count(count), count))
    return several.count(commonest) * (commonest - 1), commonest
