"""LAYOUTS, the five tables of a roster: their columns, which of them must be there, and how each cell is read."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from typing import Any

from county.domain.roster import Device, Place, Precinct, Rover, Seal
from county.roster_files import cells

Value = Place | Precinct | Device | Seal | Rover
Read = Callable[[str], object]


@dataclass(frozen=True, slots=True)
class Layout:
    """One table: `ids` tell its rows apart, `needed` must be there and not be empty, `make` makes a row's value."""

    name: str
    ids: tuple[str, ...]
    needed: tuple[str, ...]
    columns: Mapping[str, Read]
    make: Callable[..., Value]


def _place(zone: str = "", time_zone: str = "", **values: Any) -> Place:
    """A place whose `zone` may have been told as a time zone."""
    if "/" in zone:
        return Place(zone="", time_zone=time_zone or zone, **values)
    return Place(zone=zone, time_zone=time_zone, **values)


LAYOUTS: tuple[Layout, ...] = (
    Layout(
        "places",
        ("place",),
        ("place", "name"),
        {
            "place": cells.identifier,
            "name": cells.text,
            "address": cells.text,
            "city": cells.text,
            "latitude": cells.latitude,
            "longitude": cells.longitude,
            "opens": cells.clock,
            "closes": cells.clock,
            "zone": cells.zone,
            "phone": cells.text,
            "registered": cells.whole,
            "ballots_delivered": cells.whole,
            "time_zone": cells.time_zone,
            "route": cells.text,
            "serves": cells.serves,
            "also": cells.identifiers,
            "officers": cells.whole,
        },
        _place,
    ),
    Layout(
        "precincts",
        ("precinct",),
        ("precinct", "place"),
        {"precinct": cells.text, "name": cells.text, "place": cells.identifier, "registered": cells.whole},
        Precinct,
    ),
    Layout(
        "devices",
        ("device",),
        ("device", "place", "type"),
        {
            "device": cells.identifier,
            "place": cells.identifier,
            "type": cells.word,
            "serial": cells.text,
            "model": cells.text,
            "protective_counter": cells.whole,
        },
        Device,
    ),
    Layout(
        "seals",
        ("device", "position"),
        ("device", "position", "number"),
        {"device": cells.identifier, "position": cells.word, "number": cells.text},
        Seal,
    ),
    Layout(
        "rovers",
        ("rover",),
        ("rover", "name"),
        {
            "rover": cells.identifier,
            "name": cells.text,
            "zone": cells.text,
            "phone": cells.text,
            "latitude": cells.latitude,
            "longitude": cells.longitude,
            "skills": cells.words,
            "carries": cells.words,
            "starts": cells.clock,
            "ends": cells.clock,
        },
        Rover,
    ),
)


def layout_of(stem: str, columns: Collection[str]) -> Layout | None:
    """The table a file holds: the one it is named after, or else the one whose columns it has most of."""
    named = next((layout for layout in LAYOUTS if layout.name == stem.casefold()), None)
    fitting = [layout for layout in LAYOUTS if set(layout.needed) <= set(columns)]
    return named or max(fitting, key=lambda layout: len(layout.columns.keys() & set(columns)), default=None)
