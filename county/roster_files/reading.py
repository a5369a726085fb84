"""Every file a county may have, read to one roster: what it says, what stands in its way, what is worth a look."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import chain
from typing import Any

from county.delimited import Unreadable
from county.domain.roster import Roster
from county.errors import Problem
from county.roster_files.checks import problems_between
from county.roster_files.columns import Guess
from county.roster_files.files import RosterFile
from county.roster_files.gathering import Gathering
from county.roster_files.grids import Grid, text_grid
from county.roster_files.guessing import columns_of
from county.roster_files.headers import find_header, is_of_equipment
from county.roster_files.known import Known
from county.roster_files.layouts import LAYOUTS
from county.roster_files.lines import Lines, of_file
from county.roster_files.own_list import OwnList
from county.roster_files.packed import is_workbook, members, unpacked
from county.roster_files.sites import Told
from county.roster_files.tables import read_table, table_layout, wanted
from county.roster_files.vip import Feed
from county.roster_files.vip_records import Record, flat_records, is_flat, xml_records
from county.roster_files.workbook import workbook_grids

_OLD_OFFICE = b"\xd0\xcf\x11\xe0"
_WEB_PAGE = (b"<html", b"<!doctype html", b"<table")
_MARKS = (b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff")


@dataclass(frozen=True, slots=True)
class Reading:
    """What files say: `roster` holds what could be read, tables no file held are empty.

    `problems` are worst first: those that keep the roster from being loaded, then warnings. `notes` say what was left
    out or joined and need nobody's action. `guesses` are the column maps of the county's own lists.
    """

    roster: Roster
    problems: tuple[Problem, ...]
    notes: tuple[Problem, ...] = ()
    guesses: tuple[Guess, ...] = ()


def read_files(files: Iterable[RosterFile], known: Known) -> Reading:
    """Read the five tables, VIP feeds, workbooks, archives of these, and lists of any other shape, all as one."""
    reading = _Reading(known)
    for file in files:
        reading.take(file)
    return reading.result()


@dataclass(slots=True)
class _Reading:
    known: Known
    lines: Lines = field(default_factory=Lines)
    told: Told = field(default_factory=Told)
    problems: list[Problem] = field(default_factory=list)
    guesses: list[Guess] = field(default_factory=list)
    records: list[Record] = field(default_factory=list)

    def take(self, file: RosterFile) -> None:
        try:
            for part, grids in _opened(file):
                if grids is None:
                    self.records += xml_records(part)
                else:
                    self._take_grids(part, grids)
        except Unreadable as error:
            self.problems.append(of_file(file.name, str(error)))
        except OSError as error:
            self.problems.append(of_file(file.name, f"cannot be opened: {error.strerror or error}"))

    def result(self) -> Reading:
        if self.records:
            Feed(self.records, self.known, self.told).read()
        if self.told.sites or self.told.votes:
            Gathering(self.told, self.lines, self.known).run()
        tables: dict[str, Any] = {
            each.name: tuple(line.value for line in self.lines.good(each.name)) for each in LAYOUTS
        }
        found = [*self.problems, *self.told.problems, *problems_between(self.lines)]
        worst_first = sorted(found, key=lambda problem: problem.warning)
        return Reading(Roster(**tables), tuple(worst_first), tuple(self.told.notes), tuple(self.guesses))

    def _take_grids(self, file: RosterFile, grids: Sequence[Grid]) -> None:
        several = len(grids) > 1
        understood, refused = 0, None
        for grid in grids:
            label = f"{file.name} [{grid.name}]" if several else file.name
            try:
                understood += self._take_grid(Grid(label, grid.name, grid.listed(), grid.says), file.name)
            except Unreadable as error:
                refused = error
                if several:
                    self.told.notes.append(of_file(label, f"{error}; the sheet is left out"))
        if not understood and refused is not None:
            raise refused

    def _take_grid(self, grid: Grid, file: str) -> bool:
        """Whether the grid was understood. Raises Unreadable where it was not."""
        records = grid.listed()
        if grid.says:
            self.problems.append(of_file(grid.file, grid.says, warning=True))
        layout = table_layout(grid, records)
        if layout is not None:
            self.problems += read_table(grid, layout, records, self.lines)
        elif is_flat(grid):
            found, bad = flat_records(grid)
            self.records += found
            self.problems += [line.problem("", says) for line, says in bad]
        else:
            self._take_list(grid, file)
        return True

    def _take_list(self, grid: Grid, file: str) -> None:
        records = grid.listed()
        if not records:
            raise Unreadable("row 1: the file is empty")
        header = find_header(records)
        if header is None:
            raise Unreadable(
                f"row {records[0][0]}: is the header of no table of the roster, and no row below is; "
                f"they need {wanted()}; any other list needs at least a column with the place's name"
            )
        guess = columns_of(file, grid.name if grid.file != file else "", header, self.known)
        if not {"name", "place", "address", "name_address"} & guess.columns.keys():
            raise Unreadable(
                f"row {header.row}: is the header of no table of the roster; they need {wanted()}; "
                "any other list needs at least a column with the place's name"
            )
        if is_of_equipment(header) and not {"precinct", "precinct_name", "precincts"} & guess.columns.keys():
            raise Unreadable(
                f"row {header.row}: looks like a list of devices, seals or rovers; name its columns as the tables do: "
                f"{wanted()}"
            )
        self.guesses.append(guess)
        OwnList(grid.file, header, guess, self.known, self.told).read()


def _opened(file: RosterFile) -> Iterator[tuple[RosterFile, list[Grid] | None]]:
    """The tables a file holds, or None for a feed in XML; an archive gives those of each of its files."""
    head = file.head()
    bare = head.removeprefix(next((mark for mark in _MARKS if head.startswith(mark)), b"")).replace(b"\0", b"").lstrip()
    if head.startswith(b"PK\x03\x04"):
        yield from _unpacked(file)
    elif head.startswith(_OLD_OFFICE):
        raise Unreadable("is a workbook of the old kind (.xls), or locked with a password; save it as .xlsx or as CSV")
    elif head.startswith(b"%PDF"):
        raise Unreadable("is a PDF, which holds no table to be read; ask for the list as .xlsx or as CSV")
    elif bare[:64].lower().startswith(_WEB_PAGE):
        raise Unreadable("is a web page; save it as .xlsx or as CSV")
    elif bare.startswith(b"<"):
        yield file, None
    else:
        yield file, [text_grid(file)]


def _unpacked(file: RosterFile) -> Iterator[tuple[RosterFile, list[Grid] | None]]:
    with unpacked(file) as archive:
        workbook = is_workbook(archive)
    if workbook:
        grids = workbook_grids(file)
        if not grids:
            raise Unreadable("has no sheet with anything in it")
        yield file, grids
        return
    parts = members(file)
    if not parts:
        raise Unreadable("holds no file that could be a list: no .csv, .txt, .tsv, .xlsx or .xml")
    yield from chain.from_iterable(_opened(part) for part in parts)
