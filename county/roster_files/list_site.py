"""The place that one row of a county's own list tells of, with every doubt about its cells said."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from county.roster_files import cells
from county.roster_files.coordinates import Spot, read_pair, read_spot
from county.roster_files.hours import Hours, read_hours, read_opening_and_closing, zone_meant
from county.roster_files.kinds import Sort
from county.roster_files.known import Known
from county.roster_files.lines import Line
from county.roster_files.list_cells import number_id, whole
from county.roster_files.sites import Site

Doubt = Callable[[Line, str, str], None]
"""Says a doubt about a row: at a column, in words."""


@dataclass(frozen=True, slots=True)
class SiteReader:
    """Reads the places of one list; `counts_places` where its registered voters are a place's, not a precinct's."""

    known: Known
    doubt: Doubt
    counts_places: bool

    def read(self, line: Line, values: Mapping[str, str], sort: Sort) -> Site | None:
        """The row's place, or None where it names none. ValueError where a text of it cannot be kept."""
        name, address, own_id = values.get("name", ""), values.get("address", ""), number_id(values.get("place", ""))
        if sort is Sort.BY_MAIL or not (name or address or own_id):
            return None
        hours, spot = self._hours(line, values), self._spot(line, values)
        zone = zone_meant(hours.zone, self.known.election.zone, self.known.election.date)
        if zone:
            self.doubt(line, "opens", f"'{values.get('hours') or values.get('opens')}' means {zone}")
        return Site(
            line, own_id, cells.text(name), cells.text(address), cells.text(values.get("city", "")),
            spot.latitude, spot.longitude, hours.opens, hours.closes,
            zone=cells.text(values.get("zone", "")),
            phone=cells.text(values.get("phone", "")),
            registered=self.number(line, values, "registered") if self.counts_places else None,
            ballots_delivered=self.number(line, values, "ballots_delivered"),
            officers=self.number(line, values, "officers"),
            time_zone=self._time_zone(line, values) or zone,
            route=cells.text(values.get("route", "")),
            serves="all" if sort is Sort.VOTE_CENTRE else "",
            hours_told=values.get("hours") or values.get("opens") or values.get("closes", ""),
        )  # fmt: skip

    def number(self, line: Line, values: Mapping[str, str], each: str) -> int | None:
        """A whole number the row says, or None."""
        said = values.get(each, "")
        number = whole(said)
        if said and number is None:
            self.doubt(line, each, f"{cells.shown(said)} is no whole number and is left out")
        return number

    def _hours(self, line: Line, values: Mapping[str, str]) -> Hours:
        try:
            if "hours" in values and not (values.get("opens") or values.get("closes")):
                hours = read_hours(values["hours"])
            else:
                hours = read_opening_and_closing(values.get("opens", ""), values.get("closes", ""))
        except ValueError as error:
            self.doubt(line, "opens", f"{error}; ask, and until then the plan's {self.known.usual_hours} stand")
            return Hours()
        if hours.doubt:
            self.doubt(line, "opens", hours.doubt)
        return hours

    def _spot(self, line: Line, values: Mapping[str, str]) -> Spot:
        america = self.known.in_america
        if values.get("coordinates"):
            spot = read_pair(values["coordinates"], in_america=america)
        else:
            spot = read_spot(values.get("latitude", ""), values.get("longitude", ""), in_america=america)
        if spot.doubt:
            self.doubt(line, "latitude", spot.doubt)
        return spot

    def _time_zone(self, line: Line, values: Mapping[str, str]) -> str:
        said = values.get("time_zone", "")
        if not said:
            return ""
        try:
            return cells.time_zone(said) if "/" in said else read_hours(f"7 am - 8 pm {said}").zone
        except ValueError as error:
            self.doubt(line, "time_zone", f"{error}; the county's is taken")
            return ""
