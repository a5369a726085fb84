"""What is owed is sent: gathered to messages, handed to a channel, and what became of it written into the ledger."""

import logging
from datetime import datetime
from functools import partial
from random import Random

from county.clock import Clock
from county.domain.entries import Entry
from county.domain.messages import Message, Waiting, gathered, message_id
from county.domain.notices import Fact
from county.domain.plan import Plan
from county.errors import Problem
from county.notices import channels, wording
from county.sending import Sending
from county.store import ledger, outbox
from county.store.engine import reading, writing
from county.telling import notice_fact
from county.wiring import Office

_LEASE = 2
"""A lease lasts so many times as long as a try may take: long enough to write down what became of it."""
_REAL = Clock()
"""Bursts, leases and waits go by the real clock, also where the office's is set and runs fast or stands still."""
_luck = Random()
log = logging.getLogger(__name__)


def gather(office: Office) -> int:
    """Make messages of what is owed and is not to wait for more of its kind; how many."""
    with reading(office.engine) as connection:
        if not outbox.any_waiting(connection):
            return 0
    now, burst = _REAL.now(), office.settings.sending.burst / max(1.0, office.clock.speed)
    with writing(office.engine) as connection:
        waiting = outbox.waiting(connection)
        groups = gathered(waiting, outbox.made_since(connection, now - burst), now, burst)
        for group in groups:
            outbox.make(connection, _message(office, group), [each.notice for each in group], now)
    return len(groups)


def people_waiting(office: Office) -> list[str]:
    """Everybody for whom there is something to send now."""
    with reading(office.engine) as connection:
        return outbox.people_waiting(connection, _REAL.now())


def send_next(office: Office, person: str, holder: str) -> bool:
    """Send the next message to a person and write down whether it arrived; False where there is none to send now.

    `holder` names whoever sends: no other sends the same meanwhile. A process that ends half-way leaves the message to
    be sent again under the same number, so it arrives at least once.
    """
    sending, now = office.settings.sending, _REAL.now()
    with writing(office.engine) as connection:
        message = outbox.lease(connection, person, holder, now, now + _LEASE * sending.timeout)
    if message is None:
        return False
    try:
        _carry(office, message)
    except channels.NotTaken as error:
        _did_not_arrive(office, message, holder, str(error))
    else:
        _end(office, message, Fact.ARRIVED)
    return True


def unreachable(plan: Plan, sending: Sending) -> list[Problem]:
    """Whom no notice can reach as the plan and the settings stand, and why; no address is repeated."""
    faults = ((person.name, channels.fault(person.notice, sending.addresses)) for person in plan.people)
    return [Problem(f"person {name}", says, warning=True) for name, says in faults if says]


def _message(office: Office, group: list[Waiting]) -> Message:
    first, name = group[0], message_id(group)
    title, body = first.title, first.body
    if len(group) > 1:
        rehearsal = office.plan.election.rehearsal or not office.clock.real
        title, body = wording.digest(name, group, office.plan, rehearsal=rehearsal)
    return Message(name, first.number, first.person, first.kind, title, body)


def _carry(office: Office, message: Message) -> None:
    person = next((person for person in office.plan.people if person.name == message.person), None)
    if person is None:
        raise channels.NotTaken("the plan no longer names this person")
    sending = office.settings.sending
    address = channels.address_of(person.notice, sending.addresses)
    work = partial(channels.carry, address, message.title, message.body)
    channels.within(sending.timeout.total_seconds(), work, f"notice to {message.person}")


def _did_not_arrive(office: Office, message: Message, holder: str, why: str) -> None:
    sending, tries = office.settings.sending, message.tries + 1
    log.warning("notice %s to %s, try %d of %d: %s", message.message, message.person, tries, sending.tries, why)
    if tries >= sending.tries:
        _end(office, message, Fact.FAILED, why)
        return
    until = _REAL.now() + sending.wait_after(tries, _luck)
    with writing(office.engine) as connection:
        outbox.put_off(connection, message.message, holder, until, why)


def _end(office: Office, message: Message, fact: Fact, why: str = "") -> None:
    """Write down for each notice of the message what became of it, once, with the message's end."""
    happened_at, tries = office.clock.now(), message.tries + 1
    with writing(office.engine) as connection:
        carried = outbox.end(connection, message.message, fact.value, _REAL.now(), why)
        ledger.append(connection, [_what_became(office, fact, each, message, happened_at, tries) for each in carried])


def _what_became(
    office: Office, fact: Fact, waiting: Waiting, message: Message, happened_at: datetime, tries: int
) -> Entry:
    return notice_fact(
        office,
        fact,
        waiting.notice,
        waiting.case,
        waiting.place,
        happened_at,
        person=waiting.person,
        role=waiting.role,
        channel=waiting.channel,
        message=message.message,
        tries=tries,
    )
