"""From what the lists tell to places and precincts: rows of one place joined, ids given, what a list lacks kept."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from county.domain.roster import Place
from county.errors import Problem
from county.roster_files.known import Known
from county.roster_files.lines import Line, Lines
from county.roster_files.place_ids import other_ids, place_ids
from county.roster_files.precincts_told import Precincts, precincts_told
from county.roster_files.same_place import Group, Grouped, group, plain
from county.roster_files.sites import Site, Told

_SAYS: Mapping[str, tuple[str, ...]] = {
    "opens": ("hours", "opens", "closes"),
    "closes": ("hours", "opens", "closes"),
    "latitude": ("latitude", "coordinates"),
    "longitude": ("longitude", "coordinates"),
    "serves": ("kind", "precinct", "precincts"),
    "time_zone": ("time_zone", "hours", "opens"),
    "registered": ("registered",),
}
"""The columns of a list that tell a column of a place; every other is told by the one of its own name."""
_COLUMNS = (
    "city", "latitude", "longitude", "opens", "closes", "zone", "phone", "registered", "ballots_delivered", "time_zone",
    "route", "serves", "officers",
)  # fmt: skip


@dataclass(frozen=True)
class Gathering:
    """What all lists of one load tell, brought together."""

    told: Told
    lines: Lines
    known: Known

    def run(self) -> None:
        """Put places and precincts among the lines; what is doubtful or joined goes to the told problems and notes."""
        self.told.problems.extend(self._grouped.problems)
        precincts = precincts_told(self.told.votes, self._place_of)
        self.told.problems.extend([*precincts.problems, *self._unplaced()])
        self.told.notes.extend(precincts.notes)
        if self._given is None:
            self._put_places(precincts)
        if self.told.votes:
            self.lines.tables.setdefault("precincts", {})
        for line in precincts.lines:
            first = self.lines.keep("precincts", (line.value.precinct,), line)
            if first:
                says = f"{line.value.precinct} is already in {first.file}, row {first.row}"
                self.told.problems.append(line.problem("precinct", says))

    @cached_property
    def _given(self) -> list[Place] | None:
        """The places of a places table in the same load; then the lists tell only who votes where."""
        return [line.value for line in self.lines.good("places")] if "places" in self.lines.tables else None

    @cached_property
    def _grouped(self) -> Grouped:
        return group(self.told.sites)

    @cached_property
    def _ids(self) -> dict[int, str]:
        """Each group's place id; none where the places are given and none of them is meant."""
        precincts = {each.precinct for each in self.told.votes}
        groups = self._grouped.groups
        if self._given is None:
            ids = place_ids(groups, self.known.standing.places, precincts)
            return {id(each): chosen for each, chosen in zip(groups, ids, strict=True)}
        among = {place.place for place in self._given}
        ids = place_ids(groups, self._given, precincts)
        return {id(each): chosen for each, chosen in zip(groups, ids, strict=True) if chosen in among}

    def _place_of(self, site: Site) -> str | None:
        found = self._grouped.of.get(id(site.line))
        if found is not None:
            return self._ids.get(id(found))
        return self._named.get(site.id)

    @cached_property
    def _named(self) -> dict[str, str]:
        """Every id that a list without names may mean a place by."""
        places = self.known.standing.places if self._given is None else tuple(self._given)
        return {name: place.place for place in places for name in (place.place, *place.also)}

    def _unplaced(self) -> Iterator[Problem]:
        for site in self._grouped.homeless:
            if site.id not in self._named:
                yield site.line.problem("place", f"{site.id} is no place of these lists")
        for each in self._grouped.groups if self._given is not None else ():
            if id(each) not in self._ids:
                yield each.sites[0].line.problem("name", f"{each.first('name')} is not among the places")

    def _put_places(self, precincts: Precincts) -> None:
        taken = set(self._ids.values())
        ids = {line.value.precinct for line in precincts.lines}
        numbers = Counter[str]()
        for line in precincts.lines:
            numbers[line.value.place] += line.value.registered or 0
        if self._grouped.groups:
            self.lines.tables.setdefault("places", {})
        for each in self._grouped.groups:
            chosen = self._ids[id(each)]
            place = self._place(each, chosen, other_ids(each, chosen, taken, ids))
            if place.registered is None and numbers[chosen]:
                place = replace(place, registered=numbers[chosen])
            if chosen in precincts.centres:
                place = replace(place, serves="all")
            self.lines.keep("places", (chosen,), each.sites[0].line.with_value(place))
        self._say_what_was_done(numbers)

    def _place(self, each: Group, chosen: str, also: tuple[str, ...]) -> Place:
        """The place as its rows tell it, with what stands already of all that no list has a column for."""
        stands = self.known.standing.place_by_id.get(chosen)
        values = {column: each.first(column) for column in _COLUMNS}
        for column in _COLUMNS if stands else ():
            if not self.told.fields & set(_SAYS.get(column, (column,))) and values[column] in ("", None):
                values[column] = getattr(stands, column)
        address = str(each.first("address")) or (stands.address if stands and "address" not in self.told.fields else "")
        name = str(each.first("name")) or address or chosen
        return Place(place=chosen, name=name, address=address, also=also, **values)  # type: ignore[arg-type]

    def _say_what_was_done(self, numbers: Counter[str]) -> None:
        given = [each for each in self._grouped.groups if not each.ids]
        if given:
            first, last = self._ids[id(given[0])], self._ids[id(given[-1])]
            named = f"{len(given)} places have no id in the list; they are called {first} to {last}"
            if len(given) == 1:
                named = f"one place has no id in the list; it is called {first}"
            says = f"{named}, and will be when it is loaded again"
            self.told.notes.append(_whole_file(given[0].sites[0].line).problem("", says))
        for each in self._grouped.groups:
            self._say_of(each)
        self._say_of_hours()
        self._say_of_same_address()

    def _say_of(self, each: Group) -> None:
        first = each.sites[0]
        if len(each.ids) > 1:
            self.told.notes.append(first.line.problem("place", f"{' and '.join(each.ids)} are one place"))
        for column in ("opens", "closes"):
            said = {value: site for site in each.sites if (value := getattr(site, column)) is not None}
            if len(said) > 1:
                _, other = list(said.items())[1]
                says = f"{first.name} has other hours in row {first.line.row}; those are taken"
                self.told.problems.append(other.line.problem(column, says, warning=True))
                break

    def _say_of_hours(self) -> None:
        """Places of which no row says hours, where there is a column for them."""
        blank = [each for each in self._grouped.groups if not any(site.hours_told for site in each.sites)]
        if not blank:
            return
        if not self.told.fields & {"hours", "opens", "closes"} or len(blank) == len(self._grouped.groups):
            says = f"no hours are said; every place keeps the plan's, {self.known.usual_hours}"
            self.told.notes.append(_whole_file(blank[0].sites[0].line).problem("", says))
            return
        for each in blank:
            name, usual = each.first("name"), self.known.usual_hours
            says = f"the hours of {name} are blank; ask, and until then the plan's {usual} stand"
            self.told.problems.append(each.sites[0].line.problem("opens", says, warning=True))

    def _say_of_same_address(self) -> None:
        """Two places at one address, or of one name, may be one place written in two ways."""
        for column, what in (("address", "address"), ("name", "name")):
            seen: dict[str, Group] = {}
            for each in self._grouped.groups:
                said = plain(str(each.first(column)))
                first = seen.setdefault(said, each) if said else each
                if first is each or (column == "address" and _other_town(first, each)):
                    continue
                named, row = first.first("name"), first.sites[0].line.row
                says = f"{each.first('name')} has the {what} of {named} in row {row}; are they one?"
                self.told.problems.append(each.sites[0].line.problem(column, says, warning=True))


def _other_town(one: Group, other: Group) -> bool:
    towns = plain(str(one.first("city"))), plain(str(other.first("city")))
    return all(towns) and towns[0] != towns[1]


def _whole_file(line: Line) -> Line:
    """The line that stands for the whole of the row's file."""
    return replace(line, row=1)
