"""The outbox: notices owed and the messages that carry them, each sent at least once and in the order of its cases."""

from collections.abc import Sequence
from dataclasses import asdict, fields
from datetime import datetime

from sqlalchemy import Connection, Select, Update, and_, insert, select, update

from county.domain.messages import Message, Undelivered, Waiting
from county.store.locks import GATHERING, hold
from county.store.schema import messages, outbox

ARRIVED, FAILED = "arrived", "failed"
_WAITING = [outbox.c[field.name] for field in fields(Waiting)]
_MESSAGE = [messages.c[field.name] for field in fields(Message)]
_UNDELIVERED = [outbox.c[field.name] for field in fields(Undelivered) if field.name in outbox.c]
_AT_ONCE = 500


def put(connection: Connection, owed: Sequence[Waiting]) -> None:
    """Add notices, in the transaction that writes into the ledger that they are owed."""
    if owed:
        connection.execute(insert(outbox), [asdict(each) for each in owed])


def any_waiting(connection: Connection) -> bool:
    """Whether there are notices that no message carries yet."""
    return connection.execute(select(outbox.c.notice).where(outbox.c.message.is_(None)).limit(1)).first() is not None


def waiting(connection: Connection) -> list[Waiting]:
    """The notices that no message carries yet, first owed first; whoever asks alone may gather them to messages."""
    hold(connection, GATHERING)
    rows = connection.execute(select(*_WAITING).where(outbox.c.message.is_(None)).order_by(outbox.c.number))
    return [Waiting(**row) for row in rows.mappings()]


def made_since(connection: Connection, since: datetime) -> dict[tuple[str, str], list[datetime]]:
    """When messages were made since a moment, by person and kind."""
    made: dict[tuple[str, str], list[datetime]] = {}
    query = select(messages.c.person, messages.c.kind, messages.c.made_at).where(messages.c.made_at > since)
    for person, kind, moment in connection.execute(query):
        made.setdefault((person, kind), []).append(moment)
    return made


def make(connection: Connection, message: Message, notices: Sequence[str], now: datetime) -> None:
    """A message that carries these notices from now on, to be sent as soon as may be."""
    fresh = {"made_at": now, "not_before": now, "lease": "", "leased_until": now, "outcome": "", "why": ""}
    connection.execute(insert(messages), asdict(message) | fresh)
    for start in range(0, len(notices), _AT_ONCE):
        some = outbox.c.notice.in_(notices[start : start + _AT_ONCE])
        connection.execute(update(outbox).where(some).values(message=message.message))


def people_waiting(connection: Connection, now: datetime) -> list[str]:
    """Everybody for whom a message may be sent now."""
    return sorted(set(connection.execute(_to_send(now).with_only_columns(messages.c.person)).scalars()))


def lease(connection: Connection, person: str, holder: str, now: datetime, until: datetime) -> Message | None:
    """The next message for a person, kept from all others until a moment; None where there is none to send now.

    A message waits while an earlier one about a case of its own, to the same person, has not ended.
    """
    query = _to_send(now).where(messages.c.person == person).limit(1)
    row = connection.execute(query.with_for_update(skip_locked=True, of=messages)).mappings().first()
    if row is None:
        return None
    connection.execute(_one(row["message"]).values(lease=holder, leased_until=until))
    return Message(**row)


def end(connection: Connection, message: str, outcome: str, now: datetime, why: str = "") -> list[Waiting]:
    """The message has arrived or failed for good: the notices it carried. Nothing where that was known already."""
    ending = _one(message).where(messages.c.ended_at.is_(None))
    ended = ending.values(outcome=outcome, ended_at=now, tries=messages.c.tries + 1, why=why)
    if not connection.execute(ended).rowcount:
        return []
    rows = connection.execute(select(*_WAITING).where(outbox.c.message == message).order_by(outbox.c.number))
    return [Waiting(**row) for row in rows.mappings()]


def put_off(connection: Connection, message: str, holder: str, until: datetime, why: str) -> None:
    """The message was tried and did not arrive; not again before a moment. Only whoever holds its lease may say so."""
    held = _one(message).where(messages.c.lease == holder, messages.c.ended_at.is_(None))
    now = {"tries": messages.c.tries + 1, "not_before": until, "leased_until": until, "lease": "", "why": why}
    connection.execute(held.values(now))


def failed(connection: Connection) -> list[Undelivered]:
    """The notices given up for good, latest first."""
    query = (
        select(*_UNDELIVERED, messages.c.ended_at.label("failed_at"), messages.c.why)
        .join(messages, messages.c.message == outbox.c.message)
        .where(messages.c.outcome == FAILED)
        .order_by(messages.c.ended_at.desc(), outbox.c.number)
    )
    return [Undelivered(**row) for row in connection.execute(query).mappings()]


def _to_send(now: datetime) -> Select[tuple[object, ...]]:
    """The messages that may be sent now, in their order."""
    mine, others, earlier = outbox.alias("mine"), outbox.alias("others"), messages.alias("earlier")
    of_one_case = and_(others.c.case == mine.c.case, others.c.person == mine.c.person)
    pair = mine.join(others, of_one_case).join(earlier, earlier.c.message == others.c.message)
    blocked = (
        select(mine.c.notice)
        .select_from(pair)
        .where(mine.c.message == messages.c.message, earlier.c.number < messages.c.number, earlier.c.ended_at.is_(None))
        .correlate(messages)
        .exists()
    )
    may_go = (messages.c.not_before <= now, messages.c.leased_until <= now, messages.c.ended_at.is_(None))
    return select(*_MESSAGE).where(*may_go, ~blocked).order_by(messages.c.number)


def _one(message: str) -> Update:
    return update(messages).where(messages.c.message == message)
