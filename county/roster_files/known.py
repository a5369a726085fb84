"""What reading a county's own lists may lean on: the roster that stands, the election, the maps confirmed before."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from county.domain.plan import Election
from county.domain.roster import Roster
from county.roster_files.column_maps import ColumnMap

_EASTERN_HEMISPHERE = ("America/Adak", "Pacific/Guam", "Pacific/Saipan", "Pacific/Wake")

_AMERICAN = re.compile(r"(?P<month>\d{1,2})[/.-](?P<day>\d{1,2})[/.-](?P<year>\d{4})")
_ISO = re.compile(r"(?P<year>\d{4})-(?P<month>\d{2})-(?P<day>\d{2})(?:[ T]00:00:00)?")


@dataclass(frozen=True, slots=True)
class Known:
    """`told` are columns a person told for this load: file name to field to header (several parted by " + ")."""

    election: Election
    standing: Roster = field(default_factory=Roster)
    maps: tuple[ColumnMap, ...] = ()
    told: Mapping[str, Mapping[str, str]] = field(default_factory=dict)

    @property
    def in_america(self) -> bool:
        """Whether every place of the county must lie north of the equator and well west of Greenwich."""
        zone = self.election.zone
        return zone.startswith(("America/", "US/", "Pacific/Honolulu")) and zone not in _EASTERN_HEMISPHERE

    @property
    def usual_hours(self) -> str:
        """The plan's hours, for messages."""
        return f"{self.election.opens:%H:%M} to {self.election.closes:%H:%M}"


def same_county(one: str, other: str) -> bool:
    """Whether both mean the same county: "WRENFIELD", "Wrenfield Co." and "Wrenfield County" do."""
    return _bare(one) == _bare(other)


def read_day(said: str) -> date | None:
    """A date as American lists write it, 11/3/2026, or 2026-11-03; None where it is neither."""
    found = _AMERICAN.fullmatch(said.strip()) or _ISO.fullmatch(said.strip())
    try:
        return date(int(found["year"]), int(found["month"]), int(found["day"])) if found else None
    except ValueError:
        return None


def _bare(county: str) -> str:
    words = re.findall(r"[^\W_]+", county.casefold().replace("&", " and "))
    return " ".join(word for word in words if word not in ("county", "co", "parish", "borough", "of", "the"))
