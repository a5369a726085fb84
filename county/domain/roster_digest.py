"""A roster as it is written down, and its fingerprint: the same for the same rows, whatever their order."""

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import asdict, fields
from datetime import time
from types import MappingProxyType
from typing import Any, get_type_hints

from county.domain.entry_form import canonical
from county.domain.roster import IDS, Device, Place, Precinct, Roster, Rover, Seal

_VALUES: Mapping[str, type[Any]] = MappingProxyType(
    {"places": Place, "precincts": Precinct, "devices": Device, "seals": Seal, "rovers": Rover}
)

_SINCE = frozenset({"officers"})
"""Columns added since: left out where empty, so that the fingerprints of earlier rosters stay what they were."""


def written_roster(roster: Roster) -> str:
    """Every table's rows in RFC 8785, sorted: what the fingerprint is of, and what the roster is read back from."""
    return canonical({name: sorted(_written(row) for row in getattr(roster, name)) for name in _VALUES})


def roster_digest(roster: Roster) -> str:
    """SHA-256, in hex, of the roster as it is written."""
    return hashlib.sha256(written_roster(roster).encode()).hexdigest()


def read_written_roster(text: str) -> Roster:
    """The roster that was written so, each table in the order of its ids. Columns added since are empty."""
    tables = json.loads(text)
    return Roster(**{name: _rows(name, rows) for name, rows in tables.items()})


def _written(row: object) -> str:
    values = asdict(row)  # type: ignore[call-overload]
    said = {name: v.isoformat() if isinstance(v, time) else v for name, v in values.items()}
    return canonical({name: v for name, v in said.items() if v is not None or name not in _SINCE})


def _rows(table: str, rows: list[str]) -> tuple[Any, ...]:
    read = [_read(_VALUES[table], json.loads(row)) for row in rows]
    return tuple(sorted(read, key=lambda row: tuple(getattr(row, name) for name in IDS[table])))


def _read(value: type[Any], said: Mapping[str, Any]) -> Any:
    kinds = _kinds(value)
    return value(**{name: kinds[name](given) if given is not None else None for name, given in said.items()})


def _kinds(value: type[Any]) -> Mapping[str, Callable[[Any], Any]]:
    """How each column's value is made again from what JSON can say."""
    hints = get_type_hints(value)
    made: dict[str, Callable[[Any], Any]] = {f.name: _as_it_is for f in fields(value)}
    made |= {name: tuple for name, hint in hints.items() if hint == tuple[str, ...]}
    made |= {name: time.fromisoformat for name, hint in hints.items() if hint == time | None}
    return made | {name: float for name, hint in hints.items() if hint == float | None}


def _as_it_is(given: object) -> object:
    return given
