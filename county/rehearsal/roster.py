"""A made-up county of any number of places, for rehearsals that are larger or smaller than the sample county."""

from collections.abc import Iterator
from datetime import time

from county.domain.roster import Device, Place, Precinct, Roster, Rover, Seal
from county.rehearsal.sent import chance

MOST_PLACES = 20_000
PLACES_ON_A_ROUTE, PLACES_IN_A_ZONE, PLACES_A_ROVER = 8, 12, 6
CENTRE = (41.90, -99.75)
DEGREES_APART = (0.02, 0.027)

_FIRST = (
    "Amber",
    "Birch",
    "Cinder",
    "Dapple",
    "Elder",
    "Fern",
    "Gable",
    "Hollow",
    "Iron",
    "Juniper",
    "Kettle",
    "Linden",
)
_SECOND = ("brook", "cross", "dale", "field", "gate", "hill", "lea", "mark", "reach", "stead", "ton", "well")
_HALLS = ("School", "Fire Hall", "Library", "Church Hall", "Grange Hall", "Senior Center", "Recreation Center")
_CALLED = ("Ada", "Bram", "Cleo", "Dov", "Edda", "Finn", "Greta", "Hale", "Ivo", "Juna", "Kell", "Lise")


def made_up_county(places: int, seed: int = 1) -> Roster:
    """A county of 1 to 20,000 places, on a square grid, with its precincts, devices, seals and rovers.

    Same number and seed, same county. Raises ValueError outside that range.
    """
    if not 1 <= places <= MOST_PLACES:
        raise ValueError(f"a made-up county has 1 to {MOST_PLACES:,} places")
    precincts = tuple(_precincts(places, seed))
    registered: dict[str, int] = {}
    for precinct in precincts:
        registered[precinct.place] = registered.get(precinct.place, 0) + (precinct.registered or 0)
    devices = tuple(_devices(places, seed))
    return Roster(
        places=tuple(_place(n, places, registered[_id(n)]) for n in range(1, places + 1)),
        precincts=precincts,
        devices=devices,
        seals=tuple(_seals(devices, seed)),
        rovers=tuple(_rover(n, places) for n in range(1, max(1, places // PLACES_A_ROVER) + 1)),
    )


def _id(number: int) -> str:
    return f"P{number:05}"


def _name(number: int) -> str:
    town = _FIRST[number % len(_FIRST)] + _SECOND[number // len(_FIRST) % len(_SECOND)]
    again = number // (len(_FIRST) * len(_SECOND))
    return f"{town} {_HALLS[number % len(_HALLS)]}" + (f" {again + 1}" if again else "")


def _at(number: int, places: int) -> tuple[float, float]:
    """Latitude and longitude on the grid."""
    side = max(1, round(places**0.5))
    north, east = divmod(number - 1, side)
    return (
        round(CENTRE[0] + (north - side / 2) * DEGREES_APART[0], 5),
        round(CENTRE[1] + (east - side / 2) * DEGREES_APART[1], 5),
    )


def _zone(number: int) -> str:
    return f"Z{(number - 1) // PLACES_IN_A_ZONE + 1:03}"


def _place(number: int, places: int, registered: int) -> Place:
    latitude, longitude = _at(number, places)
    return Place(
        place=_id(number),
        name=_name(number),
        address=f"{100 + number} {_FIRST[number * 5 % len(_FIRST)]} Street",
        city=_FIRST[number % len(_FIRST)] + _SECOND[number // len(_FIRST) % len(_SECOND)],
        latitude=latitude,
        longitude=longitude,
        zone=_zone(number),
        phone=f"555-01{number % 100:02}",
        registered=registered,
        ballots_delivered=max(100, round(registered * 0.7 / 50) * 50),
        route=f"D{(number - 1) // PLACES_ON_A_ROUTE + 1:04}",
    )


def _precincts(places: int, seed: int) -> Iterator[Precinct]:
    """One precinct a place, at every fourth place two."""
    for number in range(1, places + 1):
        rng = chance("precincts", seed, number)
        for part in range(2 if number % 4 == 0 else 1):
            name = f"{number}{'AB'[part]}" if number % 4 == 0 else str(number)
            yield Precinct(f"W{name}", f"Ward {name}", _id(number), rng.randint(500, 2_200))


def _devices(places: int, seed: int) -> Iterator[Device]:
    """One scanner a place and at every second place another, a ballot-marking device, two pollbooks."""
    for number in range(1, places + 1):
        rng = chance("devices", seed, number)
        for part in range(1, 3 if number % 2 == 0 else 2):
            yield _counting("SC", "scanner", number, part, rng.randint(10_000, 90_000))
        yield _counting("BM", "bmd", number, 1, rng.randint(1_000, 9_000))
        for part in (1, 2):
            yield Device(f"PB-{number:05}{part}", _id(number), "pollbook")


def _counting(prefix: str, type_: str, number: int, part: int, protective: int) -> Device:
    return Device(f"{prefix}-{number:05}{part}", _id(number), type_, protective_counter=protective)


def _seals(devices: tuple[Device, ...], seed: int) -> Iterator[Seal]:
    for device in devices:
        positions = {"scanner": ("front", "auxiliary"), "bmd": ("front",)}.get(device.type, ())
        rng = chance("seals", seed, device.device)
        for position in positions:
            yield Seal(device.device, position, str(rng.randint(100_000, 999_999)))


def _rover(number: int, places: int) -> Rover:
    home = min(places, (number - 1) * PLACES_A_ROVER + 1)
    latitude, longitude = _at(home, places)
    return Rover(
        rover=f"R{number:04}",
        name=f"{_CALLED[number % len(_CALLED)]} {_FIRST[number // len(_CALLED) % len(_FIRST)]}ley",
        zone=_zone(home),
        phone=f"555-01{number % 100:02}",
        latitude=latitude,
        longitude=longitude,
        skills=("scanner", "bmd") if number % 2 else ("scanner", "power"),
        carries=("scanner", "seals") if number % 3 else ("surge protector", "tape"),
        starts=time(4, 30),
        ends=time(20, 30),
    )
