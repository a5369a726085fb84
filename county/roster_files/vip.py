"""A VIP feed's records become places and precincts: what is not of the day is left out, what dangles is named."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from county.roster_files.known import Known, read_day, same_county
from county.roster_files.sites import Site, Told, Votes
from county.roster_files.vip_places import FeedPlaces
from county.roster_files.vip_records import Record

FIELDS = frozenset({"name", "place", "address", "city", "hours", "coordinates", "precinct", "precinct_name", "split"})
_PLACES = ("pollinglocationids", "pollinglocationid")


@dataclass
class Feed:
    """All records of the feeds of one load, however many files they came in."""

    records: Sequence[Record]
    known: Known
    told: Told

    def read(self) -> None:
        """Put every site and who votes there among the told."""
        self.told.fields |= FIELDS
        self._look_at_the_day()
        ours = [each for each in self._of("precinct") if self._is_ours(each)]
        self._places.read()
        votes = [each for record in ours for each in self._votes(record)]
        meant = {id(each.site) for each in votes if each.site}
        many = len(self._localities) > 1
        self.told.sites += [each for each in self._places.sites.values() if not many or id(each) in meant]
        self.told.votes += votes

    def _of(self, kind: str) -> Iterator[Record]:
        return (record for record in self.records if record.kind == kind)

    @cached_property
    def _day(self) -> date:
        """The day the feed speaks of, which is the plan's unless it says another."""
        days = [day for each in self._of("election") if (day := read_day(each.first("date")))]
        return self.known.election.date if not days or self.known.election.date in days else days[0]

    @cached_property
    def _places(self) -> FeedPlaces:
        return FeedPlaces(self.records, self.known, self.told, self._day)

    def _look_at_the_day(self) -> None:
        for record in self._of("election"):
            if self._day != self.known.election.date and read_day(record.first("date")) == self._day:
                says = f"is {self._day}; the plan's election is on {self.known.election.date}"
                self.told.problems.append(record.line.problem("Date", says, warning=True))

    @cached_property
    def _localities(self) -> dict[str, Record]:
        """The localities that have precincts."""
        used = {each.first("localityid") for each in self._of("precinct")}
        return {each.id: each for each in self._of("locality") if each.id in used}

    @cached_property
    def _our_localities(self) -> frozenset[str] | None:
        """The ids of our county's localities among several; None where the feed is one county's."""
        named = {key: each.first("name") for key, each in self._localities.items()}
        ours = frozenset(key for key, name in named.items() if same_county(name, self.known.election.county))
        if named and not ours:
            says = f"is {', '.join(sorted(named.values())[:3])}; the plan says {self.known.election.county}"
            first = next(iter(self._localities.values()))
            self.told.problems.append(first.line.problem("Name", says, warning=len(named) == 1))
        elif len(named) > len(ours):
            first = next(each for key, each in self._localities.items() if key not in ours)
            self.told.notes.append(first.line.problem("", f"{len(named) - len(ours)} other localities are left out"))
        return ours if len(named) > 1 else None

    def _is_ours(self, precinct: Record) -> bool:
        return self._our_localities is None or precinct.first("localityid") in self._our_localities

    def _votes(self, record: Record) -> Iterator[Votes]:
        key, name = self._key(record), record.first("name") or record.first("number") or record.id
        locality = self._localities.get(record.first("localityid"))
        if record.yes("ismailonly", "mailonly") or (locality is not None and locality.yes("ismailonly", "mailonly")):
            self.told.notes.append(record.line.problem("", f"precinct {key} votes by mail only, so at no place"))
            yield Votes(record.line, key, name, None)
            return
        for split, refs in self._refs(record):
            places = self._sites_of(record, key, refs)
            if places is None:
                continue
            if not places:
                yield Votes(record.line, key, name, None, None, split)
            for site in places:
                yield Votes(record.line, key, name, site, None, split)

    def _sites_of(self, record: Record, key: str, refs: Sequence[str]) -> list[Site] | None:
        """The places of the day among those referred to; None where the precinct has no part in the day."""
        dangling = [each for each in refs if each not in self._places.sites and each not in self._places.not_the_day]
        for each in dangling:
            says = f"precinct {key} votes at {each}, which is not in the feed"
            self.told.problems.append(record.line.problem("PollingLocationIds", says, warning=True))
        places = [self._places.sites[each] for each in refs if each in self._places.sites]
        if not places and not dangling and refs:
            says = f"precinct {key} has only early voting and drop boxes, so it is left out of the day"
            self.told.problems.append(record.line.problem("PollingLocationIds", says, warning=True))
            return None
        if not places:
            says = f"precinct {key} has no place in the feed, and stands without one"
            self.told.problems.append(record.line.problem("PollingLocationIds", says, warning=True))
        return places

    def _refs(self, record: Record) -> Iterator[tuple[str, list[str]]]:
        """The places a precinct refers to, for each of its splits, or once where it has none."""
        own = [*record.ids(*_PLACES), *self._joined["precinctpollinglocation"].get(record.id, [])]
        splits = self._splits.get(record.id, [])
        for each in splits:
            refs = [*each.ids(*_PLACES), *self._joined["precinctsplitpollinglocation"].get(each.id, [])]
            yield each.first("name") or each.id, list(dict.fromkeys(refs)) or own
        if not splits:
            yield record.first("precinctsplitname"), list(dict.fromkeys(own))

    @cached_property
    def _splits(self) -> dict[str, list[Record]]:
        found: dict[str, list[Record]] = {}
        for each in self._of("precinctsplit"):
            found.setdefault(each.first("precinctid"), []).append(each)
        return found

    @cached_property
    def _joined(self) -> dict[str, dict[str, list[str]]]:
        """The join files of the flat dialect: precinct, or split, to places."""
        found: dict[str, dict[str, list[str]]] = {}
        for kind, key in (
            ("precinctpollinglocation", "precinctid"),
            ("precinctsplitpollinglocation", "precinctsplitid"),
        ):
            found[kind] = {}
            for each in self._of(kind):
                found[kind].setdefault(each.first(key), []).append(each.first("pollinglocationid"))
        return found

    @cached_property
    def _key_column(self) -> str:
        """What tells precincts apart as people call them: the number, or the name, or else only the feed's id."""
        ours = [each for each in self._of("precinct") if self._is_ours(each)]
        for column, other in (("number", "name"), ("name", "number")):
            pairs = {(each.first(column), each.first(other)) for each in ours}
            said = Counter(first for first, _ in pairs)
            if "" not in said and all(count == 1 for count in said.values()) and self._told_once(ours, column):
                return column
        return ""

    def _told_once(self, ours: Sequence[Record], column: str) -> bool:
        """Whether records of one number are the splits of one precinct."""
        marks = Counter((each.first(column), each.first("precinctsplitname")) for each in ours)
        return all(count == 1 for count in marks.values())

    def _key(self, record: Record) -> str:
        return record.first(self._key_column) if self._key_column else record.id
