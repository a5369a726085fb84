"""A VIP feed's records become places and precincts: what is not of the day is left out, what dangles is named."""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from county.roster_files import cells
from county.roster_files.coordinates import read_spot
from county.roster_files.hours import Hours, read_hours, zone_meant
from county.roster_files.kinds import Sort
from county.roster_files.known import Known, read_day, same_county
from county.roster_files.lines import Line
from county.roster_files.sites import Site, Told, Votes
from county.roster_files.vip_hours import DayHours, hours_on
from county.roster_files.vip_records import Record

FIELDS = frozenset({"name", "place", "address", "city", "hours", "coordinates", "precinct", "precinct_name", "split"})
_TOWN = re.compile(r"(?P<city>.+?),?\s+(?P<state>[A-Z]{2})\.?(?:\s+\d{5}(?:-?\d{4})?)?")
_PLACES = ("pollinglocationids", "pollinglocationid")


@dataclass
class Feed:
    """All records of the feeds of one load, however many files they came in."""

    records: Sequence[Record]
    known: Known
    told: Told
    _sites: dict[str, Site] = field(default_factory=dict)
    _not_the_day: dict[str, Sort] = field(default_factory=dict)

    def read(self) -> None:
        """Put every site and who votes there among the told."""
        self.told.fields |= FIELDS
        self._look_at_the_day()
        ours = [each for each in self._of("precinct") if self._is_ours(each)]
        for record in self._of("pollinglocation"):
            self._take_place(record)
        for record in self._of("earlyvotesite"):
            self._leave_out(record, Sort.EARLY)
        votes = [each for record in ours for each in self._votes(record)]
        meant = {id(each.site) for each in votes if each.site}
        many = len(self._localities) > 1
        self.told.sites += [each for each in self._sites.values() if not many or id(each) in meant]
        self.told.votes += votes

    def _of(self, kind: str) -> Iterator[Record]:
        return (record for record in self.records if record.kind == kind)

    @cached_property
    def _day(self) -> date:
        """The day the feed speaks of, which is the plan's unless it says another."""
        days = [day for each in self._of("election") if (day := read_day(each.first("date")))]
        return self.known.election.date if not days or self.known.election.date in days else days[0]

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

    def _take_place(self, record: Record) -> None:
        if not record.id:
            self.told.problems.append(
                record.line.problem("id", "has no id, so no precinct can vote there", warning=True)
            )
            return
        if record.id in self._sites or record.id in self._not_the_day:
            self.told.problems.append(record.line.problem("id", f"{record.id} is the id of another place already"))
            return
        kind = record.first("locationtype").casefold()
        if record.yes("isdropbox") or kind == "dropoff":
            self._leave_out(record, Sort.DROP_BOX)
        elif record.yes("isearlyvoting") or kind == "inpersonearly":
            self._leave_out(record, Sort.EARLY)
        else:
            self._sites[record.id] = self._site(record)

    def _leave_out(self, record: Record, sort: Sort) -> None:
        self._not_the_day[record.id] = sort
        named = record.first("name", "locationname", "line1", "addressline")
        self.told.notes.append(record.line.problem("", f"{record.id} {named} is {sort}, so it is left out of the day"))

    def _site(self, record: Record) -> Site:
        address, city = _address(record)
        hours = self._hours(record)
        spot = read_spot(record.first("latitude"), record.first("longitude"), in_america=self.known.in_america)
        if spot.doubt:
            self.told.problems.append(record.line.problem("LatLng", spot.doubt, warning=True))
        name = record.first("name", "locationname")
        if not name:
            says = f"{record.id} has no name; it is called by its address"
            self.told.problems.append(record.line.problem("Name", says, warning=True))
        try:
            texts = cells.text(name or address or record.id), cells.text(address), cells.text(city)
        except ValueError as error:
            self.told.problems.append(record.line.problem("Name", str(error)))
            texts = record.id, "", ""
        zone = zone_meant(hours.zone, self.known.election.zone, self.known.election.date)
        return Site(
            record.line, record.id, *texts, spot.latitude, spot.longitude, hours.opens, hours.closes,
            time_zone=zone, hours_told="told" if hours.opens or hours.doubt else "",
        )  # fmt: skip

    def _hours(self, record: Record) -> Hours:
        """A place's own hours: from its schedule, as text, or the election's."""
        election = next(self._of("election"), None)
        for each in (record, *([election] if election else [])):
            found = self._scheduled(each)
            if found.opens is not None:
                return Hours(found.opens, found.closes, found.zone)
            text = each.first("hours", "pollinghours")
            if text:
                return self._from_text(each, text)
        return Hours()

    def _scheduled(self, record: Record) -> DayHours:
        wanted = record.first("hoursopenid")
        schedules, line = record.schedules, record.line
        if wanted and not schedules:
            if wanted not in self._schedules:
                self._say(record.line, "HoursOpenId", f"{wanted} is not in the feed")
                return DayHours()
            schedules, line = self._schedules[wanted]
        found = hours_on(schedules, self._day, self.known.election.zone)
        for doubt in found.doubts:
            self._say(line, "HoursOpen", doubt)
        return found

    @cached_property
    def _schedules(self) -> dict[str, tuple[list[dict[str, str]], Line]]:
        found = {each.id: (list(each.schedules), each.line) for each in self._of("hoursopen")}
        for each in self._of("schedule"):
            found.setdefault(each.first("hoursopenid"), ([], each.line))[0].extend(each.schedules)
        return found

    def _from_text(self, record: Record, text: str) -> Hours:
        try:
            hours = read_hours(text)
        except ValueError as error:
            says = f"{error}; ask, and until then the plan's {self.known.usual_hours} stand"
            self._say(record.line, "Hours", says)
            return Hours(doubt=says)
        if hours.doubt:
            self._say(record.line, "Hours", hours.doubt)
        return hours

    def _say(self, line: Line, column: str, says: str) -> None:
        problem = line.problem(column, says, warning=True)
        if problem not in self.told.problems:
            self.told.problems.append(problem)

    def _votes(self, record: Record) -> Iterator[Votes]:
        key, name = self._key(record), record.first("name") or record.first("number") or record.id
        locality = self._localities.get(record.first("localityid"))
        if record.yes("ismailonly", "mailonly") or (locality is not None and locality.yes("ismailonly", "mailonly")):
            self.told.notes.append(record.line.problem("", f"precinct {key} votes by mail only, so at no place"))
            yield Votes(record.line, key, name, None)
            return
        for split, refs in self._refs(record):
            places = self._places(record, key, refs)
            if places is None:
                continue
            if not places:
                yield Votes(record.line, key, name, None, None, split)
            for site in places:
                yield Votes(record.line, key, name, site, None, split)

    def _places(self, record: Record, key: str, refs: Sequence[str]) -> list[Site] | None:
        """The places of the day among those referred to; None where the precinct has no part in the day."""
        dangling = [each for each in refs if each not in self._sites and each not in self._not_the_day]
        for each in dangling:
            says = f"precinct {key} votes at {each}, which is not in the feed"
            self.told.problems.append(record.line.problem("PollingLocationIds", says, warning=True))
        places = [self._sites[each] for each in refs if each in self._sites]
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


def _address(record: Record) -> tuple[str, str]:
    """Street address and town, from whichever form the feed has."""
    if record.first("line1"):
        lines = [record.first(each) for each in ("line1", "line2", "line3")]
        return ", ".join(filter(None, lines)), record.first("city")
    lines = list(record.values.get("addressline", []))
    town = _TOWN.fullmatch(lines[-1]) if len(lines) > 1 else None
    if town:
        return ", ".join(lines[:-1]), town["city"]
    return ", ".join(lines), record.first("city")
