"""Sessions end: signed out, not used, too old, or ended by the office; each end is a fact of the ledger, once."""

from datetime import datetime
from enum import StrEnum

from sqlalchemy import Connection

from county.domain.people import SignedIn
from county.person_facts import REAL, person_fact
from county.signing_settings import Signing
from county.store import ledger, sessions
from county.store.sessions import Kept
from county.wiring import Office


class Why(StrEnum):
    """Why a session ended, as the record says it."""

    OUT = "out"
    IDLE = "idle"
    AGE = "age"
    REVOKED = "revoked"
    PASSWORD = "password-changed"  # noqa: S105  a reason, not a secret
    ANEW = "anew"


def lapsed(kept: Kept, signing: Signing, now: datetime) -> Why | None:
    """Why a session that nobody ended is over all the same; None while it lasts."""
    if now - kept.signed_in.since >= signing.longest:
        return Why.AGE
    # a screen on the wall is looked at and never touched, and whoever only sees can do no harm
    if kept.signed_in.role.only_sees or now - kept.seen_at < signing.idle:
        return None
    return Why.IDLE


def end_session(office: Office, connection: Connection, signed_in: SignedIn, why: Why) -> None:
    """End one session, and write so into the ledger; nothing where it had ended already."""
    if sessions.end(connection, signed_in.session, REAL.now(), why):
        by = signed_in.name if why in (Why.OUT, Why.ANEW) else ""
        ledger.append(connection, [person_fact(office, signed_in.name, "signed-out", by=by, how=why)])


def end_sessions(office: Office, connection: Connection, person: str, why: Why) -> int:
    """End every session of a person; how many there were."""
    lasting = sessions.lasting(connection, person)
    for kept in lasting:
        end_session(office, connection, kept.signed_in, why)
    return len(lasting)
