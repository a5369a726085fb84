"""Tries to sign in that failed: appended, never changed; and the key that cookies and forms are signed with."""

import secrets
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection, func, insert, select

from county.store.locks import SIGN_INS, hold
from county.store.schema import failed_sign_ins, signing_keys

_LONGEST = 200


@dataclass(frozen=True, slots=True)
class FailedSignIn:
    """One try: when (UTC), as whom (empty where there is nobody of that name), from where, and why it failed."""

    tried_at: datetime
    person: str
    address: str
    why: str


def put(connection: Connection, failed: FailedSignIn) -> None:
    """Write one down. The transaction must be a writing one."""
    hold(connection, SIGN_INS)
    last = connection.execute(select(func.coalesce(func.max(failed_sign_ins.c.number), 0))).scalar_one()
    told = {"tried_at": failed.tried_at, "person": failed.person, "address": failed.address, "why": failed.why}
    told = {name: value[:_LONGEST] if isinstance(value, str) else value for name, value in told.items()}
    connection.execute(insert(failed_sign_ins), told | {"number": last + 1})


def latest(connection: Connection, limit: int) -> Sequence[FailedSignIn]:
    """The newest first."""
    rows = connection.execute(select(failed_sign_ins).order_by(failed_sign_ins.c.number.desc()).limit(limit))
    return [FailedSignIn(row.tried_at, row.person, row.address, row.why) for row in rows]


def signing_key(connection: Connection, name: str = "board") -> str:
    """The key with this name, made where there is none. The transaction must be a writing one."""
    hold(connection, SIGN_INS)
    held = connection.execute(select(signing_keys.c.secret).where(signing_keys.c.name == name)).scalar()
    if held is None:
        held = secrets.token_urlsafe(48)
        connection.execute(insert(signing_keys), {"name": name, "secret": held})
    return str(held)
