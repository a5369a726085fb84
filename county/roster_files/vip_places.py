"""The places of a VIP feed: those of the day with their hours, and those that are left out of it, each with a line."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from county.roster_files import cells
from county.roster_files.coordinates import read_spot
from county.roster_files.hours import Hours, read_hours, zone_meant
from county.roster_files.kinds import Sort
from county.roster_files.known import Known
from county.roster_files.lines import Line
from county.roster_files.sites import Site, Told
from county.roster_files.vip_hours import DayHours, hours_on
from county.roster_files.vip_records import Record

_TOWN = re.compile(r"(?P<city>.+?),?\s+(?P<state>[A-Z]{2})\.?(?:\s+\d{5}(?:-?\d{4})?)?")


@dataclass
class FeedPlaces:
    """The feed's places by id: `sites` are those of the day, which the feed speaks of; what is doubtful is told."""

    records: Sequence[Record]
    known: Known
    told: Told
    day: date
    sites: dict[str, Site] = field(default_factory=dict)
    not_the_day: dict[str, Sort] = field(default_factory=dict)

    def read(self) -> None:
        """Read every place, in the feed's order."""
        for record in self._of("pollinglocation"):
            self._take_place(record)
        for record in self._of("earlyvotesite"):
            self._leave_out(record, Sort.EARLY)

    def _of(self, kind: str) -> Iterator[Record]:
        return (record for record in self.records if record.kind == kind)

    def _take_place(self, record: Record) -> None:
        if not record.id:
            self.told.problems.append(
                record.line.problem("id", "has no id, so no precinct can vote there", warning=True)
            )
            return
        if record.id in self.sites or record.id in self.not_the_day:
            self.told.problems.append(record.line.problem("id", f"{record.id} is the id of another place already"))
            return
        kind = record.first("locationtype").casefold()
        if record.yes("isdropbox") or kind == "dropoff":
            self._leave_out(record, Sort.DROP_BOX)
        elif record.yes("isearlyvoting") or kind == "inpersonearly":
            self._leave_out(record, Sort.EARLY)
        else:
            self.sites[record.id] = self._site(record)

    def _leave_out(self, record: Record, sort: Sort) -> None:
        self.not_the_day[record.id] = sort
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
        found = hours_on(schedules, self.day, self.known.election.zone)
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
