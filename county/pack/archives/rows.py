"""Rows of tables as JSON lines and back, so that a later version with other columns still reads them."""

import base64
import json
from collections.abc import Iterator, Mapping
from datetime import datetime, time
from typing import Any

from sqlalchemy import JSON, Column, Connection, LargeBinary, Table, Time, insert, select

from county.domain.entry_form import canonical
from county.domain.moments import write_moment
from county.errors import BadCopy
from county.store.engine import UtcTime

_AT_ONCE = 500


def rows_out(connection: Connection, table: Table) -> Iterator[str]:
    """Every row as a line of canonical JSON, in the order of the table's key."""
    for row in connection.execute(select(table).order_by(*table.primary_key.columns)).mappings():
        yield canonical({name: _written(value) for name, value in row.items()})


def rows_in(connection: Connection, table: Table, text: str) -> None:
    """Rows written by `rows_out`, by this or an earlier version. Raises BadCopy where a newer one wrote them."""
    rows = [_row(table, json.loads(line)) for line in text.splitlines()]
    for start in range(0, len(rows), _AT_ONCE):
        connection.execute(insert(table), rows[start : start + _AT_ONCE])


def _written(value: object) -> object:
    if isinstance(value, datetime):
        return write_moment(value)
    if isinstance(value, time):
        return value.isoformat()
    return base64.b64encode(value).decode() if isinstance(value, bytes) else value


def _row(table: Table, told: Mapping[str, object]) -> dict[str, Any]:
    unknown = told.keys() - table.columns.keys()
    if unknown:
        raise BadCopy(
            f"{table.name} has {', '.join(sorted(unknown))}: it was written by a newer version of this program"
        )
    return {column.name: _read(column, told.get(column.name)) for column in table.columns}


def _read(column: Column[Any], value: object) -> object:
    """A value as the column keeps it; what an earlier version did not know yet is empty."""
    if value is None:
        return None if column.nullable else [] if isinstance(column.type, JSON) else ""
    if isinstance(column.type, UtcTime):
        return datetime.fromisoformat(str(value))
    if isinstance(column.type, Time):
        return time.fromisoformat(str(value))
    return base64.b64decode(str(value)) if isinstance(column.type, LargeBinary) else value
