"""Walking the ledger's chain: nothing changed, nothing missing, nothing out of order."""

import json
from collections.abc import Callable
from datetime import datetime

from sqlalchemy import Connection, Row, String, select, type_coerce
from sqlalchemy.exc import DBAPIError

from county.domain.entry_form import canonical, read_back
from county.domain.intake import content
from county.store.engine import write_utc
from county.store.ledger import FIRST_PREVIOUS, digest_of
from county.store.schema import ledger

_AT_ONCE = 2_000
_COLUMNS = ("seq", "key", "place", "sender", "kind", "previous")


def verify(connection: Connection, progress: Callable[[int], None] | None = None) -> int | None:
    """Walk the whole chain; None where it holds, else the number of the first entry that is wrong or missing.

    An entry holds where its number follows, it names the digest before it, its text is canonical and has the digest
    that stands beside it, and every column says what the text says. Entries cut off at the very end leave no trace:
    compare the last digest with one noted earlier. `progress` is called with how many were walked.
    """
    seq, previous = 0, FIRST_PREVIOUS
    while page := _page(connection, seq):
        for row in page:
            seq += 1
            if row is None or not _holds(row, seq, previous):
                return seq
            previous = row.digest
        if progress:
            progress(seq)
    return None


def _page(connection: Connection, after: int, limit: int = _AT_ONCE) -> list[Row[tuple[object, ...]] | None]:
    """Rows after a number; one that cannot even be read is None."""
    # a damaged time must be compared, not read
    times = (type_coerce(ledger.c[name], String).label(name) for name in ("happened_at", "received_at"))
    columns = [column for column in ledger.c if column.name not in ("happened_at", "received_at")]
    query = select(*columns, *times).where(ledger.c.seq > after).order_by(ledger.c.seq).limit(limit)
    try:
        return list(connection.execute(query).all())
    except (DBAPIError, UnicodeDecodeError):
        return _page(connection, after, 1) if limit > 1 else [None]


def _holds(row: Row[tuple[object, ...]], seq: int, previous: str) -> bool:
    try:
        form = json.loads(row.entry)
        entry = read_back(form)
        return (
            row.seq == seq
            and row.previous == previous
            and row.digest == digest_of(previous, row.entry)
            and row.entry == canonical(form)
            and row.content == content(entry)
            and all(getattr(row, name) == form[name] for name in _COLUMNS)
            and _written(row.happened_at) == write_utc(entry.happened_at)
            and _written(row.received_at) == write_utc(entry.received_at)
        )
    except (ValueError, TypeError, KeyError, AttributeError):
        return False


def _written(value: object) -> object:
    return write_utc(value) if isinstance(value, datetime) else value
