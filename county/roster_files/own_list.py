"""A county's own list, once its columns are known: each row tells of a place, of precincts, or of nothing."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from county.delimited import BadRow
from county.roster_files import cells
from county.roster_files.columns import Guess
from county.roster_files.headers import Header
from county.roster_files.kinds import Sort, sort_of
from county.roster_files.known import Known, same_county
from county.roster_files.lines import Line
from county.roster_files.list_cells import OF_A_PLACE, not_a_date, number_id, values_of
from county.roster_files.list_site import SiteReader
from county.roster_files.rows_passed_over import why_passed_over
from county.roster_files.sites import Site, Told, Votes
from county.roster_files.whose_list import doubts_of_owner, leaves_places_blank, other_counties

_PARTED = re.compile(r"\s*(?:[,;|&\n]|\band\b)\s*")
_OF_A_PRECINCT = frozenset({"precinct", "precinct_name", "precincts", "split", "registered", "mail_only"})


@dataclass
class OwnList:
    """One list being read; what it tells goes to `told`."""

    file: str
    header: Header
    guess: Guess
    known: Known
    told: Told
    _doubts: dict[tuple[str, str], list[Line]] = field(default_factory=dict)
    _above: dict[str, str] = field(default_factory=dict)
    _summed: int = 0

    def read(self) -> None:
        """Read every row. What is wrong with one does not cost the others."""
        self.told.fields |= self.guess.columns.keys()
        rows = list(self._rows())
        said = [values for _, _, values in rows]
        whole = Line(self.file, self.header.row, None, self._shown)
        self.told.problems.extend(doubts_of_owner(said, self.known, whole))
        others, ours = other_counties(said, self.known)
        if others and ours:
            self.told.notes.append(whole.problem("", f"rows of {others:,} other counties are left out"))
        fill = leaves_places_blank(said)
        for line, row, values in rows:
            if others and ours and not same_county(values.get("county", ""), self.known.election.county):
                continue
            passed_over = why_passed_over(row, values, self.header.names, self._summed)
            if passed_over:
                self.told.notes.append(line.problem("", passed_over))
            else:
                self._take(line, self._filled(line, values) if fill else values)
        for (column, says), lines in self._doubts.items():
            more = f"; so do {len(lines) - 1} more rows" if len(lines) > 1 else ""
            self.told.problems.append(lines[0].problem(column, says + more, warning=True))

    def _rows(self) -> Iterator[tuple[Line, list[str], dict[str, str]]]:
        positions = {name: n for n, name in enumerate(self.header.names)}
        for number, row in self.header.below:
            line = Line(self.file, number, None, self._shown)
            if isinstance(row, BadRow):
                self.told.problems.append(line.problem("", row.says))
            elif any(cell.strip() for cell in row):
                yield line, row, values_of(row, self.guess.columns, positions)

    @cached_property
    def _shown(self) -> Mapping[str, str]:
        """What this list calls each column of the roster."""
        named = {each: headers[0] for each, headers in self.guess.columns.items()}
        for column in ("opens", "closes"):
            named.setdefault(column, named.get("hours", column))
        for column in ("latitude", "longitude"):
            named.setdefault(column, named.get("coordinates", column))
        named.setdefault("name", named.get("name_address", "name"))
        named.setdefault("place", named["name"])
        named.setdefault("precinct", named.get("precinct_name", named.get("precincts", "precinct")))
        return named

    @cached_property
    def _sites(self) -> SiteReader:
        return SiteReader(self.known, self._doubt, counts_places=not self._counts_precincts)

    @property
    def _counts_precincts(self) -> bool:
        return bool({"precinct", "precinct_name"} & self.guess.columns.keys())

    def _filled(self, line: Line, values: dict[str, str]) -> dict[str, str]:
        """The values with the place of the rows above, where the list leaves it blank."""
        if any(values.get(each) for each in OF_A_PLACE):
            self._above = {each: said for each, said in values.items() if each not in _OF_A_PRECINCT}
        elif values.get("precinct") or values.get("precinct_name"):
            self._doubt(line, "name", "is blank, and the place of the row above is taken")
            return values | self._above
        return values

    def _take(self, line: Line, values: dict[str, str]) -> None:
        sort = sort_of(values, self.guess.columns)
        if sort in (Sort.EARLY, Sort.DROP_BOX):
            named = values.get("name") or values.get("address") or values.get("place", "")
            self.told.notes.append(line.problem("", f"{named} is {sort}, so it is left out of the day"))
            return
        try:
            site = self._sites.read(line, values, sort)
        except ValueError as error:
            self.told.problems.append(line.problem("name", str(error)))
            return
        if site is not None:
            self.told.sites.append(site)
        self.told.votes.extend(self._votes(line, values, site, sort))

    def _votes(self, line: Line, values: Mapping[str, str], site: Site | None, sort: Sort) -> Iterator[Votes]:
        if sort is Sort.VOTE_CENTRE and not values.get("precincts"):
            return
        registered = self._sites.number(line, values, "registered") if self._counts_precincts else None
        self._summed += registered or 0
        name = self._text(line, "precinct_name", values.get("precinct_name", ""))
        several = [each for each in _PARTED.split(values.get("precincts", "")) if each]
        for said in several or [values.get("precinct") or name]:
            precinct = self._precinct(line, said)
            if precinct:
                self._say_where(line, precinct, site, sort)
                yield Votes(line, precinct, name or precinct, site, registered, values.get("split", ""))

    def _precinct(self, line: Line, said: str) -> str:
        """A precinct's id; empty where there is none that could be kept."""
        precinct = not_a_date(number_id(said))
        if precinct != number_id(said):
            self._doubt(line, "precinct", f"'{said}' was made a date by a spreadsheet, and is taken for {precinct}")
        return self._text(line, "precinct", precinct)

    def _text(self, line: Line, column: str, said: str) -> str:
        """One line of text; empty, and said, where it cannot be kept."""
        try:
            return cells.text(said)
        except ValueError as error:
            self.told.problems.append(line.problem(column, str(error)))
            return ""

    def _say_where(self, line: Line, precinct: str, site: Site | None, sort: Sort) -> None:
        if site is None and sort is Sort.BY_MAIL:
            self.told.notes.append(line.problem("", f"precinct {precinct} votes by mail only, so at no place"))
        elif site is None:
            says = f"precinct {precinct} has no place here, and stands without one; is it the place of a row above?"
            self.told.problems.append(line.problem("name", says, warning=True))

    def _doubt(self, line: Line, column: str, says: str) -> None:
        """The same doubt is said once, at the first row that raises it."""
        self._doubts.setdefault((column, says), []).append(line)
