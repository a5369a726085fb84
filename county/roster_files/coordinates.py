"""A place's coordinates as lists write them: swapped, without the minus, in one cell, in degrees and minutes."""

import re
from dataclasses import dataclass

NORTH_AMERICA = (13.0, 72.0)
"""Degrees north between which the states and the island territories of the Caribbean lie."""
WEST = 60.0
"""Degrees west from which on they lie."""

_PLAIN = re.compile(r"(?P<sign>[+-]?)(?P<degrees>\d{1,3}(?:[.,]\d{1,15})?)\s*°?\s*(?P<side>[NSEW]?)", re.IGNORECASE)
_SEXAGESIMAL = re.compile(
    r"(?P<sign>[+-]?)(?P<degrees>\d{1,3})\s*[°d\s]\s*(?P<minutes>\d{1,2}(?:\.\d+)?)\s*['′m\s]\s*"
    r"(?:(?P<seconds>\d{1,2}(?:\.\d+)?)\s*(?:\"|″|''|s)?)?\s*(?P<side>[NSEW]?)",
    re.IGNORECASE,
)
_POINT = re.compile(r"POINT\s*\(\s*(\S+)\s+(\S+)\s*\)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Spot:
    """Latitude and longitude in degrees, or neither; `doubt` says what was mended, or why nothing could be used."""

    latitude: float | None = None
    longitude: float | None = None
    doubt: str = ""


def read_spot(latitude: str, longitude: str, *, in_america: bool) -> Spot:
    """A spot from two cells. What cannot be used leaves the place without a spot, for it works without one."""
    if not latitude.strip() and not longitude.strip():
        return Spot()
    if not latitude.strip() or not longitude.strip():
        return Spot(doubt="only one of latitude and longitude is given; the place stands without")
    try:
        north, east = _degrees(latitude), _degrees(longitude)
    except ValueError as error:
        return Spot(doubt=f"{error}; the place stands without")
    return _mended(north, east, in_america=in_america)


def read_pair(cell: str, *, in_america: bool) -> Spot:
    """A spot from one cell: `41.9, -99.7`, or `POINT (-99.7 41.9)` with the longitude first."""
    if not cell.strip():
        return Spot()
    point = _POINT.search(cell)
    if point:
        return read_spot(point[2], point[1], in_america=in_america)
    parts = [part for part in re.split(r"[,;]\s*|\s+", cell.strip(" ()[]")) if part]
    if len(parts) != 2:
        return Spot(doubt=f"'{cell.strip()}' is no pair of coordinates; the place stands without")
    return read_spot(parts[0], parts[1], in_america=in_america)


def _mended(north: float, east: float, *, in_america: bool) -> Spot:
    if (north, east) == (0, 0):
        return Spot(doubt="0 and 0 is in the Atlantic; the place stands without")
    said = f"{north:g} and {east:g}"
    mended = []
    if abs(north) > 90 >= abs(east) or (in_america and _looks_west(north) and _looks_north(east)):
        north, east = east, north
        mended.append("are swapped")
    if abs(north) > 90 or abs(east) > 180:
        return Spot(doubt=f"{said} are no degrees; the place stands without")
    if in_america and east > 0 and abs(east) >= WEST:
        east = -east
        mended.append("lack the minus of the west")
    if in_america and north < 0 and _looks_north(-north):
        north = -north
        mended.append("have the minus at the latitude")
    doubt = f"{said} {' and '.join(mended)}: taken for {north:g}, {east:g}" if mended else ""
    return Spot(north, east, doubt)


def _looks_north(degrees: float) -> bool:
    return NORTH_AMERICA[0] <= abs(degrees) <= NORTH_AMERICA[1]


def _looks_west(degrees: float) -> bool:
    return NORTH_AMERICA[1] < abs(degrees) <= 180 or -180 <= degrees <= -WEST


def _degrees(cell: str) -> float:
    text = cell.strip().translate({0x2212: "-", 0x2013: "-"})
    found = _PLAIN.fullmatch(text)
    if found:
        degrees = float(found["degrees"].replace(",", "."))
    else:
        found = _SEXAGESIMAL.fullmatch(text)
        if not found:
            raise ValueError(f"'{cell.strip()}' is no coordinate in degrees")
        degrees = float(found["degrees"]) + float(found["minutes"]) / 60 + float(found["seconds"] or 0) / 3600
    negative = found["sign"] == "-" or found["side"].upper() in ("S", "W")
    return -degrees if negative else degrees
