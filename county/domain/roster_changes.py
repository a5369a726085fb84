"""What loading a roster changes: added, changed, removed; and what stays because it was heard from."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass, fields, replace
from enum import StrEnum
from typing import Any

from county.domain.roster import IDS, Roster
from county.errors import Problem


class Did(StrEnum):
    """What became of one row of the roster."""

    ADDED = "added"
    CHANGED = "changed"
    REMOVED = "removed"


@dataclass(frozen=True, slots=True)
class Change:
    """One row added, changed or removed: its table, its id, and the columns that changed."""

    did: Did
    table: str
    id: str
    columns: tuple[str, ...] = ()

    def __str__(self) -> str:
        return f"{self.id} ({', '.join(self.columns)})" if self.columns else self.id


def combined(standing: Roster, given: Roster, heard: Collection[str]) -> Roster:
    """The roster after loading: each table given takes the place of the one that stands; a table not given stays.

    Places that were heard from stay, with their precincts, devices and seals, also where they are not given.
    """
    after = replace(
        standing,
        **{name: _by_id(rows, name) for name in IDS if (rows := getattr(given, name))},
    )
    left_out = {place.place for place in standing.places if place.place in heard} - after.place_by_id.keys()
    return _with(after, standing, left_out) if left_out else after


def changes(before: Roster, after: Roster) -> tuple[Change, ...]:
    """Every row added, changed or removed between two rosters."""
    return tuple(change for table in IDS for change in _table_changes(table, before, after))


def dangling(roster: Roster) -> list[Problem]:
    """What refers to a place or a device that is not there."""
    return [
        *(
            Problem("precincts", f"{p.precinct} votes at {p.place}, which is no place of the roster")
            for p in roster.precincts
            if p.place and p.place not in roster.place_by_id
        ),
        *(
            Problem("devices", f"{d.device} is at {d.place}, which is no place of the roster")
            for d in roster.devices
            if d.place not in roster.place_by_id
        ),
        *(
            Problem("seals", f"{s.position} is on {s.device}, which is no device of the roster")
            for s in roster.seals
            if s.device not in roster.device_by_id
        ),
    ]


def _with(after: Roster, standing: Roster, places: Collection[str]) -> Roster:
    devices = {d.device for d in standing.devices if d.place in places} - after.device_by_id.keys()
    precincts = {p.precinct for p in after.precincts}
    return replace(
        after,
        places=after.places + tuple(p for p in standing.places if p.place in places),
        precincts=after.precincts
        + tuple(p for p in standing.precincts if p.place in places and p.precinct not in precincts),
        devices=after.devices + tuple(d for d in standing.devices if d.device in devices),
        seals=after.seals + tuple(s for s in standing.seals if s.device in devices and s not in after.seals),
    )


def _table_changes(table: str, before: Roster, after: Roster) -> Iterator[Change]:
    old, new = (_rows(getattr(roster, table), table) for roster in (before, after))
    for name, row in new.items():
        if name not in old:
            yield Change(Did.ADDED, table, name)
        elif row != old[name]:
            yield Change(Did.CHANGED, table, name, _changed_columns(old[name], row))
    for name in old.keys() - new.keys():
        yield Change(Did.REMOVED, table, name)


def _changed_columns(old: Any, new: Any) -> tuple[str, ...]:
    return tuple(f.name for f in fields(new) if getattr(old, f.name) != getattr(new, f.name))


def _rows(rows: tuple[Any, ...], table: str) -> dict[str, Any]:
    return {" ".join(getattr(row, name) for name in IDS[table]): row for row in rows}


def _by_id(rows: tuple[Any, ...], table: str) -> tuple[Any, ...]:
    """One row an id (the last given), so that a table can hold them."""
    return tuple(_rows(rows, table).values())
