"""Places, precincts, devices, seals, rovers: whom we expect to hear from, and with what equipment."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import time
from functools import cached_property
from types import MappingProxyType

DEVICE_TYPES = ("scanner", "bmd", "pollbook")
"""The types the sample's sheet and the rules speak of: scanner, ballot-marking device, pollbook. Others may stand."""

IDS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "places": ("place",),
        "precincts": ("precinct",),
        "devices": ("device",),
        "seals": ("device", "position"),
        "rovers": ("rover",),
    }
)
"""The tables of a roster, parents before children, and the columns that tell each one's rows apart."""


@dataclass(frozen=True, slots=True)
class Place:
    """A polling place, the reporting unit. Blank hours mean the plan's; `zone` is the rovers' zone, `time_zone` IANA.

    `serves` is `all` for a vote centre, which serves every precinct of the county. `also` are other ids that the
    county's own lists give the same place. `officers` is how many officers it has: a number, no names.
    """

    place: str
    name: str
    address: str = ""
    city: str = ""
    latitude: float | None = None
    longitude: float | None = None
    opens: time | None = None
    closes: time | None = None
    zone: str = ""
    phone: str = ""
    registered: int | None = None
    ballots_delivered: int | None = None
    time_zone: str = ""
    route: str = ""
    serves: str = ""
    also: tuple[str, ...] = ()
    officers: int | None = None


@dataclass(frozen=True, slots=True)
class Precinct:
    """A precinct and the place where it votes; its standing is its place's standing."""

    precinct: str
    name: str
    place: str
    registered: int | None = None


@dataclass(frozen=True, slots=True)
class Device:
    """A scanner, ballot-marking device or pollbook; `protective_counter` as recorded at final testing."""

    device: str
    place: str
    type: str
    serial: str = ""
    model: str = ""
    protective_counter: int | None = None


@dataclass(frozen=True, slots=True)
class Seal:
    """A seal's number as recorded at final testing, at one position of one device."""

    device: str
    position: str
    number: str


@dataclass(frozen=True, slots=True)
class Rover:
    """A roving troubleshooter: zone, what they can do, what they carry, and their shift in wall time."""

    rover: str
    name: str
    zone: str = ""
    phone: str = ""
    latitude: float | None = None
    longitude: float | None = None
    skills: tuple[str, ...] = ()
    carries: tuple[str, ...] = ()
    starts: time | None = None
    ends: time | None = None


@dataclass(frozen=True)
class Roster:
    """The whole county as expected: five tables, and the look-ups everybody needs."""

    places: tuple[Place, ...] = ()
    precincts: tuple[Precinct, ...] = ()
    devices: tuple[Device, ...] = ()
    seals: tuple[Seal, ...] = ()
    rovers: tuple[Rover, ...] = ()

    @cached_property
    def place_by_id(self) -> Mapping[str, Place]:
        return {place.place: place for place in self.places}

    @cached_property
    def device_by_id(self) -> Mapping[str, Device]:
        return {device.device: device for device in self.devices}

    @cached_property
    def rover_by_id(self) -> Mapping[str, Rover]:
        return {rover.rover: rover for rover in self.rovers}

    @cached_property
    def devices_at(self) -> Mapping[str, tuple[Device, ...]]:
        return _grouped(self.devices)

    @cached_property
    def precincts_at(self) -> Mapping[str, tuple[Precinct, ...]]:
        """The precincts each place serves; every one of them at a vote centre."""
        grouped: dict[str, list[Precinct]] = {}
        for precinct in self.precincts:
            grouped.setdefault(precinct.place, []).append(precinct)
        for place in self.places:
            if place.serves == "all":
                grouped[place.place] = list(self.precincts)
        return {key: tuple(values) for key, values in grouped.items()}

    @cached_property
    def seals_on(self) -> Mapping[str, Mapping[str, str]]:
        """Device to position to recorded number."""
        recorded: dict[str, dict[str, str]] = {}
        for seal in self.seals:
            recorded.setdefault(seal.device, {})[seal.position] = seal.number
        return recorded

    @cached_property
    def _place_of_precinct(self) -> Mapping[str, str]:
        return {precinct.precinct: precinct.place for precinct in self.precincts}

    @cached_property
    def _place_also_known_as(self) -> Mapping[str, Place]:
        return {other: place for place in self.places for other in place.also}

    def place_of(self, identifier: str) -> Place | None:
        """The place with this id, or the place where the precinct with this id votes, or None."""
        found = self.place_by_id.get(identifier)
        votes_at = self.place_by_id.get(self._place_of_precinct.get(identifier, ""))
        return found or votes_at or self._place_also_known_as.get(identifier)


def _grouped(devices: tuple[Device, ...]) -> Mapping[str, tuple[Device, ...]]:
    grouped: dict[str, list[Device]] = {}
    for device in devices:
        grouped.setdefault(device.place, []).append(device)
    return {key: tuple(values) for key, values in grouped.items()}
