"""CHECKS, what must fit together between the cells, rows and tables of roster files."""

from collections.abc import Callable, Iterator
from datetime import time
from statistics import median

from county.domain.roster import DEVICE_TYPES
from county.errors import Problem
from county.roster_files.lines import Line, Lines

FAR_DEGREES = 3.0
"""No county spreads this far from its middle; a place that does has a wrong or swapped coordinate."""
FAR_AT_LEAST, FAR_TIMES = 1.0, 10.0
"""Nearer than that, a place is far off where it lies ten times as far from the middle as half of the places do."""
_SPOT = ("latitude", "longitude")


def problems_between(lines: Lines) -> list[Problem]:
    """Every problem that no cell shows by itself."""
    return [problem for check in CHECKS for problem in check(lines)]


def hours(lines: Lines) -> Iterator[Problem]:
    """A place that closes before it opens; midnight is the day's end."""
    for line in lines.good("places"):
        opens, closes = line.value.opens, line.value.closes
        if opens and closes and closes <= opens and closes != time(0):
            yield line.problem("closes", f"{closes:%H:%M} is not after opens {opens:%H:%M}")


def coordinates(lines: Lines) -> Iterator[Problem]:
    """Half a coordinate, 0 and 0, or a place far from all others."""
    located = []
    for line in (*lines.good("places"), *lines.good("rovers")):
        latitude, longitude = line.value.latitude, line.value.longitude
        if (latitude is None) != (longitude is None):
            missing = "latitude" if latitude is None else "longitude"
            yield line.problem(missing, "is empty, though the other coordinate is given")
        elif (latitude, longitude) == (0, 0):
            yield line.problem("latitude", "0 and 0 is in the Atlantic; leave both empty where they are not known")
        elif latitude is not None and longitude is not None:
            located.append(line)
    yield from _far_off(located)


def _far_off(located: list[Line]) -> Iterator[Problem]:
    if not located:
        return
    middle = {column: median(getattr(line.value, column) for line in located) for column in _SPOT}
    usual = {column: median(abs(getattr(line.value, column) - middle[column]) for line in located) for column in _SPOT}
    for line in located:
        at = {column: getattr(line.value, column) for column in _SPOT}
        far = [column for column in _SPOT if _is_far(abs(at[column] - middle[column]), usual[column])]
        if far:
            here = ", ".join(f"{at[column]}" for column in far)
            there = ", ".join(f"{round(middle[column], 4)}" for column in far)
            yield line.problem(far[0], f"{here} is far from the others, which lie near {there}", warning=True)


def _is_far(degrees: float, usual: float) -> bool:
    return degrees > FAR_DEGREES or degrees > max(FAR_AT_LEAST, FAR_TIMES * usual)


def references(lines: Lines) -> Iterator[Problem]:
    """A place or device that is named but is not there, where the file with them was given."""
    for table, column, among in (
        ("precincts", "place", "places"),
        ("devices", "place", "places"),
        ("seals", "device", "devices"),
    ):
        known = lines.ids(among)
        for line in lines.good(table) if known is not None else ():
            named = getattr(line.value, column)
            # a precinct that votes by mail only is at no place
            if named and named not in (known or ()):
                yield line.problem(column, f"{named} is not among the {among}")


def same_id(lines: Lines) -> Iterator[Problem]:
    """A precinct with another place's id: a report to that id could mean either."""
    places = lines.ids("places") or set()
    for line in lines.good("precincts"):
        if line.value.precinct in places and line.value.precinct != line.value.place:
            yield line.problem("precinct", f"{line.value.precinct} is also the id of a place it does not vote at")


def said_twice(lines: Lines) -> Iterator[Problem]:
    """The same seal number or serial number on two: mostly a slip of the pen, now and then true."""
    for table, column, also in (("seals", "number", ""), ("devices", "serial", "model"), ("places", "name", "address")):
        seen: dict[tuple[str, str], Line] = {}
        for line in lines.good(table):
            said = (getattr(line.value, column), getattr(line.value, also) if also else "")
            first = seen.setdefault(said, line) if said[0] else line
            if first is not line:
                yield line.problem(column, f"{said[0]} is also in {first.file}, row {first.row}", warning=True)


def types(lines: Lines) -> Iterator[Problem]:
    """A type of device that no sheet or rule knows of itself."""
    for line in lines.good("devices"):
        if line.value.type not in DEVICE_TYPES:
            known = ", ".join(DEVICE_TYPES)
            yield line.problem("type", f"{line.value.type} is not one of {known}; is it meant?", warning=True)


def left_empty(lines: Lines) -> Iterator[Problem]:
    """A place nobody votes at, or without a scanner; a rover of a zone without places."""
    voting = {line.value.place for line in lines.good("precincts")}
    scanning = {line.value.place for line in lines.good("devices") if line.value.type == "scanner"}
    zones = {line.value.zone for line in lines.good("places")}
    for line in lines.good("places"):
        if "precincts" in lines.tables and line.value.serves != "all" and line.value.place not in voting:
            yield line.problem("place", f"no precinct votes at {line.value.place}", warning=True)
        if "devices" in lines.tables and line.value.place not in scanning:
            yield line.problem("place", f"{line.value.place} has no scanner", warning=True)
    for line in lines.good("rovers"):
        if "places" in lines.tables and line.value.zone and line.value.zone not in zones:
            yield line.problem("zone", f"no place is in zone {line.value.zone}", warning=True)


CHECKS: tuple[Callable[[Lines], Iterator[Problem]], ...] = (
    hours,
    coordinates,
    references,
    same_id,
    said_twice,
    types,
    left_empty,
)
