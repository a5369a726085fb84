"""One dropped file: its rows go through the same intake as any report, and what was bad of it comes back."""

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import islice

from county.delimited import BadRow, Unreadable, read_rows
from county.domain.entries import Entry
from county.domain.intake import Hand, content
from county.domain.receipts import Outcome, Receipt, SetAside
from county.errors import Problem, Refused
from county.following import Following
from county.wiring import Office
from ingest.aside import REFUSED, set_aside
from ingest.waiting import Item

DOOR = "drop"
ROWS_AT_ONCE = 250
LARGEST_FILE = 64 * 1024 * 1024
NEEDED = ("place", "kind")
ADDED = ("row", "says")

KeepRows = Callable[[Sequence[Item]], list[Receipt]]
_Line = tuple[int, dict[str, str] | BadRow]


@dataclass(frozen=True, slots=True)
class Bad:
    """A row that was refused, as it stood; `row` is its number in the file, 0 for the file as a whole."""

    row: int
    cells: tuple[str, ...]
    says: str


@dataclass(slots=True)
class Taken:
    """What became of a file's rows."""

    columns: tuple[str, ...] = ()
    kept: int = 0
    held: int = 0
    bad: list[Bad] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class DropFile:
    """A file of this name on its way in; `keep` gives receipts once the rows are durable."""

    name: str
    office: Office
    following: Following
    keep: KeepRows

    def take(self, data: bytes) -> Taken:
        """Take in every row, some hundreds at a time. A file that is no table is set aside whole."""
        try:
            columns, lines = read_rows(data)
            _refuse_another_table(columns)
        except Unreadable as error:
            return self.refuse(str(error), data)
        taken = Taken(tuple(name for name in columns if name not in ADDED))
        while some := list(islice(lines, ROWS_AT_ONCE)):
            self._take_some(some, taken)
        return taken

    def refuse(self, says: str, data: bytes = b"") -> Taken:
        """Set the file aside as a whole."""
        self.keep([set_aside(self._hand(), REFUSED, [Problem("file", says)], data, source=self.name)])
        return Taken(bad=[Bad(0, (), says)])

    def _take_some(self, lines: Sequence[_Line], taken: Taken) -> None:
        hand = self._hand()
        items = [self._read(number, row, hand) for number, row in lines]
        for (number, row), item, receipt in zip(lines, items, self.keep(items), strict=True):
            if receipt.outcome is Outcome.KEPT:
                taken.kept += 1
            elif receipt.outcome is Outcome.ALREADY_HELD:
                taken.held += 1
            else:
                taken.bad.append(Bad(number, _cells(row, taken.columns), _says(item, receipt)))

    def _read(self, number: int, row: dict[str, str] | BadRow, hand: Hand) -> Item:
        source = f"{self.name} row {number}"
        if isinstance(row, BadRow):
            return set_aside(hand, REFUSED, [Problem("row", row.says)], _written(row.cells), source=source)
        said = {name: cell.strip() for name, cell in row.items() if name not in ADDED and cell.strip()}
        try:
            return self._entry(said, hand)
        except Refused as error:
            return set_aside(hand, REFUSED, error.problems, _written(said), key=said.get("key", ""), source=source)

    def _entry(self, said: Mapping[str, str], hand: Hand) -> Entry:
        """The entry; a row without a key gets one from its content, so that the same row is the same report."""
        if "key" in said:
            return self.following.read_report(said, hand)
        entry = self.following.read_report({**said, "key": "row"}, hand)
        return replace(entry, key=f"row-{content(entry)[:32]}")

    def _hand(self) -> Hand:
        clock = self.office.clock
        return Hand(f"drop:{self.name}", self.name, DOOR, clock.now(), clock.word)


def _refuse_another_table(columns: Sequence[str]) -> None:
    """A header without `place` and `kind` is no table of reports; an unknown column costs only rows that fill it."""
    missing = [name for name in NEEDED if name not in columns]
    if missing:
        raise Unreadable(f"row 1: no column {' and none '.join(missing)}: this is no table of reports")


def _cells(row: dict[str, str] | BadRow, columns: tuple[str, ...]) -> tuple[str, ...]:
    return row.cells if isinstance(row, BadRow) else tuple(row[name] for name in columns)


def _written(sent: object) -> str:
    return json.dumps(sent, ensure_ascii=False)


def _says(item: Item, receipt: Receipt) -> str:
    return item.says if isinstance(item, SetAside) else receipt.says
