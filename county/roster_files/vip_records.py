"""The records of a VIP feed (Voting Information Project 3.0, 5.x and 6.0), from XML and from its flat files alike."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from county import delimited
from county.delimited import BadRow, Unreadable
from county.roster_files.files import LARGEST_FEED, MB, RosterFile
from county.roster_files.grids import Grid
from county.roster_files.lines import Line
from county.roster_files.safe_xml import read_xml

USED = frozenset(
    {
        "pollinglocation", "earlyvotesite", "precinct", "precinctsplit", "locality", "election", "hoursopen",
        "schedule", "precinctpollinglocation", "precinctsplitpollinglocation", "precinctearlyvotesite",
    }
)  # fmt: skip
"""What is read of a feed; everything else, street segments and contests first, is passed over unread."""
FLAT = USED | {
    "ballot", "ballotmeasurecontest", "ballotmeasureselection", "ballotselection", "ballotstyle", "candidate",
    "candidatecontest", "candidateselection", "contactinformation", "contest", "department", "electionadministration",
    "electionofficial", "electoraldistrict", "externalidentifiers", "localityearlyvotesite", "office", "orderedcontest",
    "party", "partycontest", "partyselection", "person", "precinctelectoraldistrict", "precinctsplitelectoraldistrict",
    "retentioncontest", "source", "state", "streetsegment", "term", "voterservice",
}  # fmt: skip
"""The flat files of a feed by the element each is named after."""
ROOTS = ("vipobject",)
MOST_RECORDS = 200_000
LONGEST = 4_000
_OF_SCHEDULE = ("starttime", "endtime", "startdate", "enddate", "timezone")
_OF_ADDRESS = re.compile(r"(?:address|structured)(locationname|line[123]|city|state|zip)")


@dataclass(slots=True)
class Record:
    """One element: its kind, its id, where it stands, and what it says, every name in small letters without "_"."""

    kind: str
    id: str
    line: Line
    values: dict[str, list[str]] = field(default_factory=dict)
    schedules: list[dict[str, str]] = field(default_factory=list)

    def first(self, *names: str) -> str:
        """The first thing said under any of these names, or empty."""
        return next((said[0] for name in names if (said := self.values.get(name))), "")

    def yes(self, *names: str) -> bool:
        """Whether any of these is true; the 3.0 feeds say yes."""
        return any(self.first(name).casefold() in ("true", "yes", "1", "y", "t") for name in names)

    def ids(self, *names: str) -> list[str]:
        """Every id under these names, in order; several may stand in one value."""
        return list(
            dict.fromkeys(each for name in names for said in self.values.get(name, []) for each in said.split())
        )


def bare(name: str) -> str:
    """The name of an element or a column as it is compared."""
    return name.replace("_", "").replace(" ", "").casefold()


def xml_records(file: RosterFile) -> list[Record]:
    """The records of an XML feed, read as it comes. Raises Unreadable where it is none."""
    if file.size > LARGEST_FEED:
        raise Unreadable(f"has {file.size / MB:,.0f} MB; a feed may have {LARGEST_FEED // MB:,} MB")
    reading = _XmlReading(file.name)
    with file.open() as source:
        read_xml(source, reading.starts, reading.ends, reading.text)
    return reading.records


@dataclass(slots=True)
class _XmlReading:
    file: str
    records: list[Record] = field(default_factory=list)
    _path: list[str] = field(default_factory=list)
    _record: Record | None = None
    _text: list[str] = field(default_factory=list)

    def starts(self, name: str, attributes: dict[str, str], line: int) -> None:
        kind = bare(name)
        if not self._path and kind not in ROOTS:
            raise Unreadable(f"is XML, but no feed of polling places: its outermost element is {name[:40]}")
        self._path.append(kind)
        self._text.clear()
        if len(self._path) == 2 and kind in USED:
            if len(self.records) >= MOST_RECORDS:
                raise Unreadable(f"has more than {MOST_RECORDS:,} records of places and precincts")
            self._record = Record(kind, attributes.get("id", "").strip(), Line(self.file, line, None, unit="line"))
            self.records.append(self._record)
        elif kind == "schedule" and self._record is not None:
            self._record.schedules.append({})

    def ends(self, name: str) -> None:
        kind = self._path.pop()
        said = " ".join("".join(self._text).split())
        self._text.clear()
        if len(self._path) == 1:
            self._record = None
        elif self._record is not None and said:
            # a text in several languages; the first is the one that is shown
            key = self._path[-1] if kind == "text" else kind
            if key in _OF_SCHEDULE and "schedule" in self._path and self._record.schedules:
                _add_time(self._record.schedules, key, said)
            else:
                self._record.values.setdefault(key, []).append(said)

    def text(self, piece: str) -> None:
        if self._record is not None and sum(map(len, self._text)) < LONGEST:
            self._text.append(piece)


def _add_time(schedules: list[dict[str, str]], key: str, said: str) -> None:
    """A second pair of hours on the same days is a schedule of its own."""
    if key in schedules[-1] and key == "starttime":
        schedules.append({k: v for k, v in schedules[-1].items() if k not in ("starttime", "endtime")})
    for each in schedules[-1:] if key in ("starttime", "endtime") else schedules:
        each.setdefault(key, said)


def flat_kind(name: str) -> str:
    """The element a flat file is named after, `polling_location` or `vip_51_polling_location`; empty where none."""
    said = bare(name.replace("-", "_"))
    if said in FLAT:
        return said
    return max((each for each in FLAT if said.endswith(each) and "_" in name), key=len, default="")


def is_flat(grid: Grid) -> bool:
    """Whether a table is a flat file of a feed: named so, with ids in its header."""
    if not flat_kind(grid.name):
        return False
    _, header = next(iter(grid.listed()), (0, []))
    names = [bare(cell) for cell in header] if isinstance(header, list) else []
    return "id" in names or sum(name.endswith("id") for name in names) >= 2


def flat_records(grid: Grid) -> tuple[list[Record], list[tuple[Line, str]]]:
    """The records of a flat file, and the rows that cannot be read. Raises Unreadable."""
    kind = flat_kind(grid.name)
    if kind not in USED:
        return [], []
    columns, rows = delimited.rows_of(grid.listed())
    names = {column: _OF_ADDRESS.sub(r"\1", bare(column)) for column in columns}
    records, bad = [], []
    for number, row in rows:
        line = Line(grid.file, number, None)
        if isinstance(row, BadRow):
            bad.append((line, row.says))
            continue
        said = {names[column]: [" ".join(cell.split())] for column, cell in row.items() if cell.strip()}
        record = Record(kind, "".join(said.pop("id", [])), line, said)
        record.schedules = list(_flat_schedule(record))
        records.append(record)
    return records, bad


def _flat_schedule(record: Record) -> Iterator[dict[str, str]]:
    if record.kind == "schedule":
        yield {key: record.first(key) for key in _OF_SCHEDULE if record.first(key)}
