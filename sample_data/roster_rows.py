"""The five roster tables of Wrenfield County, as rows, drawn with a given seed."""

import math
import random
from collections.abc import Mapping, Sequence

from sample_data import invented as names

Row = Mapping[str, object]

KM_PER_DEGREE = 111.2
OWN_HOURS = {"P023": ("07:00", "20:00"), "P041": ("08:00", "19:00")}
SEVERAL_PRECINCTS = {"P003": 2, "P005": 3, "P009": 2, "P014": 2, "P018": 2, "P020": 2, "P025": 2, "P027": 3, "P031": 2,
                     "P036": 2, "P042": 2}  # fmt: skip
VOTE_CENTRE = "P048"
ROUTES = 6
SECOND_SCANNERS = 25
MOST_COUNTED = {"scanner": 60_000, "bmd": 6_000}


def county(rng: random.Random) -> dict[str, list[Row]]:
    """The five tables of the roster, as rows of columns."""
    halls = [(town, hall) for town, in_town in names.HALLS.items() for hall in in_town]
    halls.append(("Wrenfield", names.VOTE_CENTRE))
    places = [_place(f"P{number:03}", town, hall, rng) for number, (town, hall) in enumerate(halls, 1)]
    _set_seat_zones([place for place in places if not place["zone"]])
    _set_routes(places)
    precincts = _precincts(places, rng)
    _set_ballots(places, precincts, rng)
    devices = _devices(places, rng)
    return {
        "places": list(places),
        "precincts": precincts,
        "devices": devices,
        "seals": _seals(devices, rng),
        "rovers": _rovers(places),
    }


def _place(place: str, town: str, hall: str, rng: random.Random) -> dict[str, object]:
    east, north, scatter = names.TOWNS[town]
    east, north = east + rng.uniform(-scatter, scatter), north + rng.uniform(-scatter, scatter)
    opens, closes = OWN_HOURS.get(place, ("", ""))
    return {
        "place": place,
        "name": hall,
        "address": f"{rng.randrange(100, 1900)} {rng.choice(names.STREETS)}",
        "city": town,
        "latitude": round(names.CENTRE[0] + north / KM_PER_DEGREE, 5),
        "longitude": round(names.CENTRE[1] + east / KM_PER_DEGREE / math.cos(math.radians(names.CENTRE[0])), 5),
        "opens": opens,
        "closes": closes,
        "zone": names.ZONES.get(town, ""),
        "phone": f"555-01{int(place[1:]):02}",
        "registered": "",
        "ballots_delivered": "",
        "route": "",
        "serves": "all" if place == VOTE_CENTRE else "",
        "officers": 8 if place == VOTE_CENTRE else 4 + int(place[1:]) % 3,
    }


def _set_seat_zones(places: list[dict[str, object]]) -> None:
    """The seat is one zone too many for one rover: its northern half and its southern half."""
    for order, place in enumerate(sorted(places, key=lambda place: float(str(place["latitude"])))):
        place["zone"] = "Seat South" if order < len(places) // 2 else "Seat North"


def _set_routes(places: list[dict[str, object]]) -> None:
    """Delivery routes fan out from the middle of the county: places by their bearing, in equal shares."""
    latitude, longitude = names.CENTRE

    def bearing(place: Mapping[str, object]) -> float:
        return math.atan2(float(str(place["latitude"])) - latitude, float(str(place["longitude"])) - longitude)

    for order, place in enumerate(sorted(places, key=bearing)):
        place["route"] = f"D{order * ROUTES // len(places) + 1}"


def _precincts(places: Sequence[Row], rng: random.Random) -> list[Row]:
    precincts: list[Row] = []
    counts: dict[str, int] = {}
    for place in places:
        town = str(place["city"])
        share = SEVERAL_PRECINCTS.get(str(place["place"]), 1) if place["place"] != VOTE_CENTRE else 0
        for _ in range(share):
            counts[town] = counts.get(town, 0) + 1
            registered = rng.randrange(480, 1560)
            precincts.append(
                {
                    "precinct": f"{list(names.TOWNS).index(town) + 1}{counts[town]:02}",
                    "name": f"{names.PRECINCTS[town]} {counts[town]}",
                    "place": place["place"],
                    "registered": registered,
                }
            )
    return precincts


def _set_ballots(places: list[dict[str, object]], precincts: Sequence[Row], rng: random.Random) -> None:
    """Ballots for the last turnout and a quarter of it more, in packs of 25 (the rule of Tex. Elec. Code 51.005)."""
    for place in places:
        registered = sum(int(str(p["registered"])) for p in precincts if p["place"] == place["place"])
        turnout = rng.uniform(0.44, 0.66)
        supplied = min(registered, registered * turnout * 1.25) if registered else 2_000
        place["registered"] = registered or ""
        place["ballots_delivered"] = math.ceil(supplied / 25) * 25


def _devices(places: Sequence[Row], rng: random.Random) -> list[Row]:
    by_size = sorted(places, key=lambda place: -int(str(place["registered"] or 0)))
    two = {place["place"] for place in by_size[:SECOND_SCANNERS]}
    devices: list[Row] = []
    for place in places:
        centre = place["place"] == VOTE_CENTRE
        scanners = 3 if centre else 2 if place["place"] in two else 1
        books = 4 if centre else max(2, math.ceil(int(str(place["registered"])) / 900))
        models = [rng.choice(names.SCANNERS) for _ in range(scanners)]
        devices += [_device("SC", n, place, "scanner", model, rng) for n, model in enumerate(models, 1)]
        devices.append(_device("BM", 1, place, "bmd", names.MARKERS, rng))
        devices += [_device("PB", n, place, "pollbook", names.POLLBOOKS, rng) for n in range(1, books + 1)]
    return devices


def _device(letters: str, n: int, place: Row, kind: str, model: tuple[str, str], rng: random.Random) -> Row:
    device = f"{letters}-{str(place['place'])[1:]}{n}"
    counted = MOST_COUNTED.get(kind, 0)
    return {
        "device": device,
        "place": place["place"],
        "type": kind,
        "serial": f"{model[1]}-{rng.randrange(10_000, 99_999)}",
        "model": model[0],
        "protective_counter": names.COUNTED.get(device) or (rng.randrange(counted // 30, counted) if counted else ""),
    }


def _seals(devices: Sequence[Row], rng: random.Random) -> list[Row]:
    positions = {"scanner": ("front", "auxiliary"), "bmd": ("front",)}
    sealed = [(d["device"], position) for d in devices for position in positions.get(str(d["type"]), ())]
    numbers = rng.sample(range(200_000, 900_000), len(sealed))
    return [
        {"device": device, "position": position, "number": f"{number:06}"}
        for (device, position), number in zip(sealed, numbers, strict=True)
    ]


def _rovers(places: Sequence[Row]) -> list[Row]:
    """Rovers begin at the first place of their zone."""
    rovers: list[Row] = []
    for number, (rover, name, zone, skills, carries, starts, ends) in enumerate(names.ROVERS):
        start = next(place for place in places if place["zone"] == zone)
        rovers.append(
            {
                "rover": rover,
                "name": name,
                "zone": zone,
                "phone": f"555-01{60 + number}",
                "latitude": start["latitude"],
                "longitude": start["longitude"],
                "skills": skills,
                "carries": carries,
                "starts": starts,
                "ends": ends,
            }
        )
    return rovers
