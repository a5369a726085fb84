"""Whom to tell of a case now: the ladder's roles as people on shift, each told once for each rung."""

import hashlib
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from itertools import groupby

from county.domain.cases import Case
from county.domain.escalation import Telling, coming, due
from county.domain.notices import Fact, Notice
from county.domain.plan import Contact, Plan
from county.domain.shifts import next_start, on_shift, with_role

STALE = timedelta(hours=24)
"""Nobody is told of what was due longer ago: a past election is not told of."""


@dataclass(frozen=True, slots=True)
class Owed:
    """One person to be told for a rung, in a role. `vacant`: roles of an earlier rung for which nobody was on shift."""

    notice: str
    telling: Telling
    role: str
    person: Contact
    vacant: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Nobody:
    """A role of a rung for which nobody is on shift."""

    notice: str
    telling: Telling
    role: str


def to_tell(case: Case, plan: Plan, told: Collection[Notice], now: datetime) -> tuple[Owed | Nobody, ...]:
    """Who is to be told of this case by `now` and was not, and for which roles nobody is there to be told.

    Where nobody is on shift for a role, the next rung is told at once; and whoever comes on shift while the reason
    still stands is told then. `told` are the notices of this case so far.
    """
    return tuple(_new(case, plan, told, now))


def next_look(case: Case, plan: Plan, now: datetime) -> datetime | None:
    """When somebody may next be to be told of this case without anything new having been heard; None where never."""
    rungs = [telling.due_at for telling in coming(case, plan.ladder, now)]
    shift = next_start(plan, {role for rung in plan.ladder for role in rung.tell}, now) if case.state.open else None
    return min([*rungs, *([shift] if shift else [])], default=None)


def _new(case: Case, plan: Plan, told: Collection[Notice], now: datetime) -> Iterator[Owed | Nobody]:
    vacant: tuple[str, ...] = ()
    vacant_since = now
    for level in _levels(case, plan, now):
        if level[0].due_at > now and not vacant:
            return
        rungs = [replace(each, due_at=vacant_since) for each in level] if vacant else level
        found = [one for telling in rungs for one in _for_rung(telling, plan, told, now)]
        yield from (replace(one, vacant=vacant) if isinstance(one, Owed) else one for one, is_new in found if is_new)
        vacant = tuple(dict.fromkeys(one.role for one, _ in found if isinstance(one, Nobody)))
        vacant_since = rungs[0].due_at


def _levels(case: Case, plan: Plan, now: datetime) -> Iterator[Sequence[Telling]]:
    """The rungs whose reason stands, those due at one moment together, those due long ago left out."""
    rungs = [*due(case, plan.ladder, now), *coming(case, plan.ladder, now)]
    recent = [telling for telling in rungs if now - telling.due_at <= STALE]
    return (tuple(level) for _, level in groupby(recent, key=lambda telling: telling.due_at))


def _for_rung(
    telling: Telling, plan: Plan, told: Collection[Notice], now: datetime
) -> Iterator[tuple[Owed | Nobody, bool]]:
    """Each person of a rung once, in the first role that names them, and each role without anybody; whether new."""
    known = {notice.notice for notice in told}
    reached = {notice.person for notice in told if notice.telling == telling.key and notice.fact is not Fact.NOBODY}
    names: set[str] = set()
    for role in telling.tell:
        if any(person.name in reached for person in with_role(plan, role)):
            continue
        people = on_shift(plan, role, now)
        if not people:
            nobody = Nobody(notice_id(telling.key, "nobody", role), telling, role)
            yield nobody, nobody.notice not in known
        for person in people:
            if person.name not in names:
                names.add(person.name)
                yield Owed(notice_id(telling.key, "tell", person.name), telling, role, person), True


def notice_id(*of: str) -> str:
    """A notice's name: the same whoever works it out, and short enough to be read out."""
    return hashlib.sha256("\n".join(of).encode()).hexdigest()[:12]
