"""The roster in the database, read whole and replaced whole."""

from dataclasses import asdict, fields
from typing import Any

from sqlalchemy import Connection, Table, delete, insert, select

from county.domain.roster import Device, Place, Precinct, Roster, Rover, Seal
from county.store import schema
from county.store.archive_marks import refuse_archive
from county.store.locks import HEAD, hold

# parents before children
_TABLES: tuple[tuple[str, Table, type[Any]], ...] = (
    ("places", schema.places, Place),
    ("precincts", schema.precincts, Precinct),
    ("devices", schema.devices, Device),
    ("seals", schema.seals, Seal),
    ("rovers", schema.rovers, Rover),
)


def load(connection: Connection) -> Roster:
    """The whole roster, each table in the order of its ids."""
    return Roster(**{name: _rows(connection, table, value) for name, table, value in _TABLES})


def replace(connection: Connection, roster: Roster) -> None:
    """Put this roster in the place of the one that stands. The transaction must be a writing one."""
    hold(connection, HEAD)
    refuse_archive(connection)
    for _, table, _ in reversed(_TABLES):
        connection.execute(delete(table))
    for name, table, _ in _TABLES:
        rows = [asdict(row) for row in getattr(roster, name)]
        if rows:
            connection.execute(insert(table), rows)


def _rows(connection: Connection, table: Table, value: type[Any]) -> tuple[Any, ...]:
    lists = {field.name for field in fields(value) if field.type == tuple[str, ...]}
    rows = connection.execute(select(table).order_by(*table.primary_key.columns)).mappings()
    return tuple(value(**{k: tuple(v) if k in lists else v for k, v in row.items()}) for row in rows)
