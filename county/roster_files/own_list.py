"""A county's own list, once its columns are known: each row tells of a place, of precincts, or of nothing."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from county.delimited import BadRow
from county.roster_files import cells
from county.roster_files.columns import Guess
from county.roster_files.coordinates import Spot, read_pair, read_spot
from county.roster_files.header_words import header_words
from county.roster_files.headers import Header
from county.roster_files.hours import Hours, read_hours, read_opening_and_closing, zone_meant
from county.roster_files.kinds import Sort, sort_of
from county.roster_files.known import Known, read_day, same_county
from county.roster_files.lines import Line
from county.roster_files.looks_like import NAME_AND_ADDRESS
from county.roster_files.sites import Site, Told, Votes

_TOTAL = re.compile(r"(?:grand |sub-?)?totals?\b.*|sum\b.*|county ?-?wide totals?\b.*", re.IGNORECASE)
_PARTED = re.compile(r"\s*(?:[,;|&\n]|\band\b)\s*")
_ZEROS = re.compile(r"(\d+)\.0+")
_TOWN = re.compile(r"(.+?),?\s+[A-Z]{2}\.?(?:,?\s+\d{5}(?:-?\d{4})?)?")
_NUMBER_NAME = re.compile(r"([A-Za-z]{0,2}\d[\w.-]{0,7})\s*(?:-|–|:)\s+([^\d\s].*)")
_SECOND_LINE = re.compile(r"(?:address|line) ?[23]$|[23]$")
_LINES = re.compile(r"(?<![\n\d])\s*\n\s*")
_SENTENCE = 33


@dataclass
class OwnList:
    """One list being read; what it tells goes to `told`."""

    file: str
    header: Header
    guess: Guess
    known: Known
    told: Told
    _doubts: dict[tuple[str, str], list[Line]] = field(default_factory=dict)
    _elsewhere: bool = False
    _summed: int = 0

    def read(self) -> None:
        """Read every row. What is wrong with one does not cost the others."""
        self.told.fields |= self.guess.columns.keys()
        self._look_whose()
        for number, row in self.header.below:
            line = Line(self.file, number, None, self._shown)
            if isinstance(row, BadRow):
                self.told.problems.append(line.problem("", row.says))
            elif any(cell.strip() for cell in row):
                self._take(line, row)
        for (column, says), lines in self._doubts.items():
            more = f"; so do {len(lines) - 1} more rows" if len(lines) > 1 else ""
            self.told.problems.append(lines[0].problem(column, says + more, warning=True))

    def _look_whose(self) -> None:
        """Whether the list is this county's and this election's; rows of other counties are passed over."""
        if not {"county", "election_date"} & self.guess.columns.keys():
            return
        rows = [self._values(row) for _, row in self.header.below if isinstance(row, list)]
        whole = Line(self.file, self.header.row, None, self._shown)
        counties = {row["county"] for row in rows if row.get("county")}
        ours = {each for each in counties if same_county(each, self.known.election.county)}
        if counties and not ours:
            says = f"is {', '.join(sorted(counties)[:3])}; the plan says {self.known.election.county}"
            self.told.problems.append(whole.problem("county", says, warning=len(counties) == 1))
        elif len(counties) > len(ours):
            self.told.notes.append(whole.problem("", f"rows of {len(counties - ours):,} other counties are left out"))
        self._elsewhere = len(counties) > 1
        days = {row["election_date"] for row in rows if row.get("election_date")}
        if len(days) == 1 and (day := read_day(*days)) not in (None, self.known.election.date):
            says = f"is {day}; the plan's election is on {self.known.election.date}"
            self.told.problems.append(whole.problem("election_date", says, warning=True))

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
        return named

    def _take(self, line: Line, row: list[str]) -> None:
        values = self._values(row)
        passed_over = self._passed_over(row, values)
        if passed_over:
            self.told.notes.append(line.problem("", passed_over))
            return
        if self._elsewhere and not same_county(values["county"], self.known.election.county):
            return
        sort = sort_of(values, self.guess.columns)
        if sort in (Sort.EARLY, Sort.DROP_BOX):
            named = values.get("name") or values.get("address") or values.get("place", "")
            self.told.notes.append(line.problem("", f"{named} is {sort}, so it is left out of the day"))
            return
        try:
            site = self._site(line, values, sort)
        except ValueError as error:
            self.told.problems.append(line.problem("name", str(error)))
            return
        if site is not None:
            self.told.sites.append(site)
        self.told.votes.extend(self._votes(line, values, site, sort))

    def _values(self, row: list[str]) -> dict[str, str]:
        position = self._positions
        values: dict[str, str] = {}
        for each, headers in self.guess.columns.items():
            parts = [(h, row[position[h]].strip()) for h in headers if position[h] < len(row)]
            values[each] = _joined(each, [(header, part) for header, part in parts if part])
        return _parted(values)

    @cached_property
    def _positions(self) -> dict[str, int]:
        return {name: n for n, name in enumerate(self.header.names)}

    def _passed_over(self, row: list[str], values: Mapping[str, str]) -> str:
        """Why a row tells of no place and no precinct; empty where it does."""
        there = [cell.strip() for cell in row if cell.strip()]
        if (
            len(there) > 1
            and sum(a.strip() == b for a, b in zip(row, self.header.names, strict=False)) >= len(there) / 2
        ):
            return "repeats the header"
        if any(_TOTAL.fullmatch(cell) for cell in there[:2]) and not values.get("address"):
            return self._checked_total(values)
        alone = len(there) == 1 and len(self.header.names) > 2
        if alone and (len(there[0]) >= _SENTENCE or not (values.get("precinct") or values.get("name"))):
            return f"tells of no place: {cells.shown(' '.join(there[0].split()))}"
        if not any(values.get(each) for each in ("name", "place", "address", "precinct", "precinct_name", "precincts")):
            return "names no place and no precinct"
        return ""

    def _checked_total(self, values: Mapping[str, str]) -> str:
        said = _whole(values.get("registered", ""))
        if said is not None and said != self._summed:
            return f"is a total of {said:,}; the rows above it come to {self._summed:,}"
        return "is a total"

    def _site(self, line: Line, values: Mapping[str, str], sort: Sort) -> Site | None:
        """The place the row tells of. ValueError where its name or address cannot be kept as text."""
        name, address, own_id = values.get("name", ""), values.get("address", ""), _number_id(values.get("place", ""))
        if sort is Sort.BY_MAIL or not (name or address or own_id):
            return None
        hours, spot = self._hours(line, values), self._spot(line, values)
        zone = zone_meant(hours.zone, self.known.election.zone, self.known.election.date)
        if zone:
            self._doubt(line, "opens", f"'{values.get('hours') or values.get('opens')}' means {zone}")
        return Site(
            line, own_id, cells.text(name), cells.text(address), cells.text(values.get("city", "")),
            spot.latitude, spot.longitude, hours.opens, hours.closes,
            zone=cells.text(values.get("zone", "")),
            phone=cells.text(values.get("phone", "")),
            registered=None if self._names_precincts else self._whole(line, values, "registered"),
            ballots_delivered=self._whole(line, values, "ballots_delivered"),
            time_zone=self._time_zone(line, values) or zone,
            route=cells.text(values.get("route", "")),
            serves="all" if sort is Sort.VOTE_CENTRE else "",
            hours_told=values.get("hours") or values.get("opens") or values.get("closes", ""),
        )  # fmt: skip

    @property
    def _names_precincts(self) -> bool:
        return bool({"precinct", "precinct_name"} & self.guess.columns.keys())

    def _hours(self, line: Line, values: Mapping[str, str]) -> Hours:
        try:
            if "hours" in values and not (values.get("opens") or values.get("closes")):
                hours = read_hours(values["hours"])
            else:
                hours = read_opening_and_closing(values.get("opens", ""), values.get("closes", ""))
        except ValueError as error:
            self._doubt(line, "opens", f"{error}; ask, and until then the plan's {self.known.usual_hours} stand")
            return Hours()
        if hours.doubt:
            self._doubt(line, "opens", hours.doubt)
        return hours

    def _spot(self, line: Line, values: Mapping[str, str]) -> Spot:
        america = self.known.in_america
        if values.get("coordinates"):
            spot = read_pair(values["coordinates"], in_america=america)
        else:
            spot = read_spot(values.get("latitude", ""), values.get("longitude", ""), in_america=america)
        if spot.doubt:
            self.told.problems.append(line.problem("latitude", spot.doubt, warning=True))
        return spot

    def _time_zone(self, line: Line, values: Mapping[str, str]) -> str:
        said = values.get("time_zone", "")
        if not said:
            return ""
        try:
            return cells.time_zone(said) if "/" in said else read_hours(f"7 am - 8 pm {said}").zone
        except ValueError as error:
            self._doubt(line, "time_zone", f"{error}; the county's is taken")
            return ""

    def _votes(self, line: Line, values: Mapping[str, str], site: Site | None, sort: Sort) -> Iterator[Votes]:
        if sort is Sort.VOTE_CENTRE and not values.get("precincts"):
            return
        registered = self._whole(line, values, "registered") if self._names_precincts else None
        self._summed += registered or 0
        name = values.get("precinct_name", "")
        several = [each for each in _PARTED.split(values.get("precincts", "")) if each]
        for said in several or [values.get("precinct") or name]:
            if not said:
                continue
            precinct = _number_id(said)
            try:
                kept = cells.text(precinct), cells.text(name or precinct)
            except ValueError as error:
                self.told.problems.append(line.problem("precinct", str(error)))
                continue
            if site is None and sort is Sort.BY_MAIL:
                self.told.notes.append(line.problem("", f"precinct {kept[0]} votes by mail only, so at no place"))
            elif site is None:
                says = f"precinct {kept[0]} has no place here, and stands without one; is it the place of a row above?"
                self.told.problems.append(line.problem("name", says, warning=True))
            yield Votes(line, *kept, site, registered, values.get("split", ""))

    def _whole(self, line: Line, values: Mapping[str, str], each: str) -> int | None:
        said = values.get(each, "")
        number = _whole(said)
        if said and number is None:
            self._doubt(line, each, f"{cells.shown(said)} is no whole number and is left out")
        return number

    def _doubt(self, line: Line, column: str, says: str) -> None:
        """The same doubt is said once, at the first row that raises it."""
        self._doubts.setdefault((column, says), []).append(line)


def _joined(each: str, parts: Sequence[tuple[str, str]]) -> str:
    """The cells that make up a field, with their headers: a street follows its number, a second line a comma."""
    if each in ("precincts", "precinct"):
        return ("\n" if each == "precincts" else "-").join(part for _, part in parts)
    whole = ""
    for header, part in parts:
        line = " ".join(_LINES.sub(", " if each in ("address", "name_address") else " ", part).split())
        between = ", " if _SECOND_LINE.search(header_words(header)) else " "
        whole = f"{whole}{between}{line}" if whole else line
    return whole


def _parted(values: dict[str, str]) -> dict[str, str]:
    """The values with those told apart that a list writes into one cell."""
    both = NAME_AND_ADDRESS.fullmatch(values.get("name_address", ""))
    if "name_address" in values:
        name, address = (both[1], both[2]) if both else (values["name_address"], "")
        values |= {"name": values.get("name") or name, "address": values.get("address") or address}
    town = _TOWN.fullmatch(values.get("city", ""))
    if town:
        values["city"] = town[1]
    numbered = _NUMBER_NAME.fullmatch(values.get("precinct", ""))
    if numbered and not values.get("precinct_name"):
        values |= {"precinct": numbered[1], "precinct_name": numbered[2]}
    return values


def _number_id(said: str) -> str:
    """An id as it was meant: spreadsheets make 12.0 of 12."""
    found = _ZEROS.fullmatch(said)
    return found[1] if found else said


def _whole(said: str) -> int | None:
    try:
        return cells.whole(_number_id(said.replace(" ", "")))
    except ValueError:
        return None
