"""Who is signed in to the board: begun, used, ended. Only the SHA-256 of what a cookie holds is kept."""

import hashlib
import secrets
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection, Row, insert, select, update

from county.domain.people import Role, SignedIn
from county.store.schema import people, sessions


@dataclass(frozen=True, slots=True)
class Kept:
    """A session as it is kept, with how its person's account stands now. `ended_at` is None while it lasts."""

    signed_in: SignedIn
    seen_at: datetime
    ended_at: datetime | None
    account_ended: bool


def mark_of(token: str) -> str:
    """What is kept of the token in a cookie."""
    return hashlib.sha256(token.encode("utf-8", "replace")).hexdigest()


def begin(connection: Connection, person: str, now: datetime) -> str:
    """A new session; its token, which is kept nowhere."""
    token = secrets.token_urlsafe(32)
    told = {"session": mark_of(token), "person": person, "begun_at": now, "seen_at": now}
    connection.execute(insert(sessions), told)
    return token


def find(connection: Connection, session: str) -> Kept | None:
    """The session with this mark, ended or not."""
    row = connection.execute(_JOINED.where(sessions.c.session == session)).one_or_none()
    return _kept(row) if row else None


def lasting(connection: Connection, person: str = "") -> Sequence[Kept]:
    """Sessions that nobody has ended, the oldest first; of one person where one is named."""
    query = _JOINED.where(sessions.c.ended_at.is_(None)).order_by(sessions.c.begun_at)
    rows = connection.execute(query.where(sessions.c.person == person) if person else query)
    return [_kept(row) for row in rows]


def used(connection: Connection, session: str, now: datetime) -> None:
    """Note that a session was used."""
    connection.execute(
        update(sessions).where(sessions.c.session == session, sessions.c.ended_at.is_(None)), {"seen_at": now}
    )


def end(connection: Connection, session: str, now: datetime, why: str) -> bool:
    """End one session; False where it had ended already."""
    query = update(sessions).where(sessions.c.session == session, sessions.c.ended_at.is_(None))
    return connection.execute(query, {"ended_at": now, "why": why}).rowcount > 0


_JOINED = select(sessions, people.c.role, people.c.must_change, people.c.ended_at.label("account_ended_at")).join(
    people
)


def _kept(row: Row[tuple[object, ...]]) -> Kept:
    signed_in = SignedIn(row.session, row.person, Role(row.role), row.begun_at, row.must_change)
    return Kept(signed_in, row.seen_at, row.ended_at, row.account_ended_at is not None)
