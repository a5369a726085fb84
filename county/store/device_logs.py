"""Devices' own logs as they came: the bytes and their SHA-256, appended once and never changed."""

import hashlib
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection, func, insert, select

from county.store.archive_marks import refuse_archive
from county.store.locks import HEAD, hold
from county.store.schema import device_logs


@dataclass(frozen=True, slots=True)
class StoredLog:
    """One file: the name it came under, its SHA-256 in hex, when it was taken in (aware UTC), and its bytes."""

    number: int
    name: str
    digest: str
    taken_in_at: datetime
    content: bytes


def digest_of(content: bytes) -> str:
    """The SHA-256 by which a file is known, in hex."""
    return hashlib.sha256(content).hexdigest()


def put(connection: Connection, name: str, content: bytes, now: datetime) -> bool:
    """Keep a file; whether it is new. The transaction must be a writing one."""
    hold(connection, HEAD)
    refuse_archive(connection)
    digest = digest_of(content)
    if connection.execute(select(device_logs.c.number).where(device_logs.c.digest == digest)).first():
        return False
    number = connection.execute(select(func.coalesce(func.max(device_logs.c.number), 0))).scalar_one()
    row = {"number": number + 1, "taken_in_at": now, "name": name, "digest": digest, "content": content}
    connection.execute(insert(device_logs), [row])
    return True


def load(connection: Connection, after: int = 0) -> list[StoredLog]:
    """Every file after this number, in the order they were taken in."""
    rows = connection.execute(select(device_logs).where(device_logs.c.number > after).order_by(device_logs.c.number))
    return [StoredLog(row.number, row.name, row.digest, row.taken_in_at, bytes(row.content)) for row in rows]
