"""Whom the ladder says to tell: written into the ledger, and in the same transaction into the outbox."""

import logging
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from sqlalchemy import Connection

from county.domain.cases import Case
from county.domain.effects import Effect
from county.domain.entries import Entry, Kind
from county.domain.messages import Waiting
from county.domain.notices import Fact
from county.domain.picture import Picture, PlaceState
from county.domain.receipts import Outcome
from county.domain.roster import Place
from county.domain.to_tell import Nobody, Owed, next_look, to_tell
from county.notices import channels, wording
from county.store import ledger, outbox
from county.store.engine import writing
from county.wiring import Office

log = logging.getLogger(__name__)

BY = "notices"
"""Who writes down what became of notices."""


@dataclass(frozen=True, slots=True)
class Due:
    """A fact to be written down about a notice, and what to send with it, if anything."""

    fact: Entry
    waiting: Waiting | None = None


class Watch:
    """Remembers when each place has to be looked at again, so that a turn costs only what has changed."""

    def __init__(self) -> None:
        self._looked: dict[str, tuple[PlaceState, datetime | None]] = {}

    def to_look_at(self, picture: Picture, now: datetime) -> list[PlaceState]:
        """The places that have changed since they were looked at, and those whose time has come."""
        return [state for place, state in picture.places.items() if self._is_due(place, state, now)]

    def looked(self, states: Iterable[PlaceState], picture: Picture, now: datetime) -> None:
        """These were looked at `now`, and what was due there is written down."""
        for state in states:
            moments = [next_look(case, picture.plan, now) for case in state.cases if case.state.open]
            again = min((moment for moment in moments if moment), default=None)
            self._looked[state.day.place] = state, again

    def _is_due(self, place: str, state: PlaceState, now: datetime) -> bool:
        held, again = self._looked.get(place, (None, None))
        return held is not state or (again is not None and again <= now)


def tell_due(office: Office, watch: Watch, picture: Picture, now: datetime) -> int:
    """Write down whoever is to be told by `now` (aware UTC) of whatever raised the case; how many facts were new.

    All of it follows from the ledger: what was not written before a process ended is written by the next.
    """
    states = watch.to_look_at(picture, now)
    dues = due_at(replace(office, plan=picture.plan), states, now)
    new = 0
    if dues:
        with writing(office.engine) as connection:
            new = write_down(connection, dues)
    watch.looked(states, picture, now)
    return new


def due_at(office: Office, states: Iterable[PlaceState], now: datetime) -> list[Due]:
    """Everybody to be told now of the open cases of these places, and each role for which nobody is on shift."""
    if not office.plan.ladder:
        return []
    open_cases = [(state, case) for state in states for case in state.cases if case.state.open]
    return [due for state, case in open_cases for due in _of_case(office, state, case, now)]


def _of_case(office: Office, state: PlaceState, case: Case, now: datetime) -> list[Due]:
    told = [notice for notice in state.notices if notice.case == case.case]
    try:
        return [
            _owed(office, one, case, state.expected.place, now)
            if isinstance(one, Owed)
            else Due(_fact(office, one, case, now, role=one.role, telling=one.telling.key))
            for one in to_tell(case, office.plan, told, now)
        ]
    except Exception:  # a case that cannot be put into words must not keep the others from being told of
        log.exception("nobody could be told of %s; going on", case.case)
        return []


def write_down(connection: Connection, dues: Sequence[Due]) -> int:
    """Keep the facts and, with each that is new, what is to be sent; how many were new. Same transaction, both or none.

    Another clock may have written the same fact already, and then the notice with it.
    """
    receipts = ledger.append(connection, [due.fact for due in dues])
    new = [(due, receipt.seq) for due, receipt in zip(dues, receipts, strict=True) if receipt.outcome is Outcome.KEPT]
    outbox.put(connection, [replace(due.waiting, number=seq) for due, seq in new if due.waiting])
    return len(new)


def notice_fact(
    office: Office, fact: Fact, notice: str, case: str, place: str, happened_at: datetime, **fields: object
) -> Entry:
    """What the ledger says about a notice, received now; a fact has one key, whoever writes it."""
    return Entry(
        # no sender's key can hold a stroke, so nobody can be kept from being told by a report
        key=f"notice/{notice}/{fact}",
        kind=Kind.NOTICE,
        place=place,
        happened_at=happened_at,
        received_at=office.clock.now(),
        by=BY,
        door=BY,
        sender=BY,
        fields={"fact": fact.value, "notice": notice, "case": case, **fields},
        clock=office.clock.word,
    )


def _owed(office: Office, owed: Owed, case: Case, place: Place, now: datetime) -> Due:
    rehearsal = office.plan.election.rehearsal or not office.clock.real
    words = wording.words(owed, case, place, office.plan, now, rehearsal=rehearsal)
    channel = channels.channel_word(channels.address_of(owed.person.notice, office.settings.sending.addresses))
    telling = owed.telling
    fact = _fact(
        office,
        owed,
        case,
        now,
        role=owed.role,
        telling=telling.key,
        person=owed.person.name,
        channel=channel,
        late=bool(telling.late_by(now)),
        says=words.title,
    )
    waiting = Waiting(
        notice=owed.notice,
        number=0,
        case=case.case,
        place=case.place,
        person=owed.person.name,
        role=owed.role,
        channel=channel,
        kind=case.exception,
        danger=case.effect is Effect.DANGER,
        due_at=telling.due_at,
        owed_at=now,
        title=words.title,
        body=words.body,
        line=words.line,
    )
    return Due(fact, waiting)


def _fact(office: Office, one: Owed | Nobody, case: Case, now: datetime, **fields: object) -> Entry:
    """That somebody is owed a notice, or that nobody is there: it happened when it was due, and is written down now."""
    fact = Fact.OWED if isinstance(one, Owed) else Fact.NOBODY
    made = notice_fact(office, fact, one.notice, case.case, case.place, one.telling.due_at, **fields)
    return replace(made, received_at=now)
