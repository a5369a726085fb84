"""Reporting keys: given out once, kept only as their SHA-256, until they are revoked."""

import hashlib
import secrets
from collections.abc import Mapping
from datetime import datetime

from sqlalchemy import Connection, func, insert, select, update

from county.store.schema import keys

_BYTES = 24


def issue(connection: Connection, holder: str, now: datetime) -> str:
    """Make a new key for a sender such as `place:P014`; earlier keys stay valid. The key cannot be read again."""
    token = f"pr_{secrets.token_urlsafe(_BYTES)}"
    connection.execute(insert(keys), {"key_hash": _hash(token), "holder": holder, "issued_at": now})
    return token


def revoke(connection: Connection, holder: str | None, now: datetime) -> int:
    """End every live key of a sender, or of everybody where it is None; how many that were."""
    ending = update(keys).where(keys.c.revoked_at.is_(None)).values(revoked_at=now)
    if holder is not None:
        ending = ending.where(keys.c.holder == holder)
    return connection.execute(ending).rowcount


def holder_of(connection: Connection, token: str) -> str | None:
    """The sender whose live key this is, or None."""
    query = select(keys.c.holder).where(keys.c.key_hash == _hash(token), keys.c.revoked_at.is_(None))
    return connection.execute(query).scalar_one_or_none()


def live(connection: Connection) -> Mapping[str, int]:
    """How many live keys each sender has."""
    query = select(keys.c.holder, func.count()).where(keys.c.revoked_at.is_(None)).group_by(keys.c.holder)
    return dict(connection.execute(query).all())


def _hash(token: str) -> str:
    # a key is 192 random bits, so a plain hash cannot be guessed back
    return hashlib.sha256(token.encode("utf-8", "surrogatepass")).hexdigest()
