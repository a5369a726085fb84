"""Builders for who is told: people, rungs, the facts that are written down, and a clock that looks now and then."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime, time, timedelta

from county.domain.cases import Case
from county.domain.effects import Effect
from county.domain.entries import Entry, Kind
from county.domain.notices import Fact
from county.domain.picture import known
from county.domain.plan import Contact, Plan, Rung
from county.domain.to_tell import Nobody, Owed, to_tell
from tests.builders import a_plan, an_entry
from tests.looking import a_picture


def a_rung(after: float = 0, *tell: str, unless: str = "acknowledged", effect: Effect = Effect.IMPAIRED) -> Rung:
    """After so many minutes, unless acknowledged, tell the lead or others."""
    return Rung(effect, timedelta(minutes=after), unless, tell or ("lead",))


def a_person(name: str = "Ada Rill", *roles: str, starts: str = "", ends: str = "") -> Contact:
    """The lead, or somebody with other roles, all the time or on a shift such as `06:00`."""
    shift = [time.fromisoformat(text) for text in (starts, ends) if text]
    return Contact(name, roles or ("lead",), "console", *shift)


def a_ladder(*rungs: Rung, people: Sequence[Contact] = (a_person(),)) -> Plan:
    """A plan that tells these people by these rungs."""
    return replace(a_plan(), ladder=rungs, people=tuple(people))


def a_fact(one: Owed | Nobody, case: Case, now: datetime) -> Entry:
    """What is written down at `now`."""
    fact = Fact.OWED if isinstance(one, Owed) else Fact.NOBODY
    whom = {"person": one.person.name, "channel": "console"} if isinstance(one, Owed) else {}
    more = {"case": case.case, "telling": one.telling.key, "role": one.role, "late": bool(one.telling.late_by(now))}
    return a_notice_fact(fact, one.notice, one.telling.due_at, case.place, received_at=now, **more, **whom)


def a_notice_fact(fact: str, notice: str, at: datetime, place: str = "P014", **more: object) -> Entry:
    """One fact about a notice."""
    key = f"notice/{notice}/{fact}"
    more.setdefault("received_at", at)
    return an_entry(Kind.NOTICE, at, key=key, place=place, sender="notices", fact=str(fact), notice=notice, **more)  # type: ignore[arg-type]


def look(plan: Plan, entries: Sequence[Entry], now: datetime) -> list[tuple[Owed | Nobody, Entry]]:
    """What a clock that knows what was received by `now` finds to be told, and the facts it writes down."""
    picture = a_picture(*known(entries, now), plan=plan)
    return [
        (one, a_fact(one, case, now))
        for state in picture.places.values()
        for case in state.cases
        for one in to_tell(case, plan, [n for n in state.notices if n.case == case.case], now)
    ]


def watched(
    plan: Plan, entries: Iterable[Entry], looks: Iterable[datetime]
) -> tuple[list[tuple[datetime, Owed | Nobody]], list[Entry]]:
    """Everything told by a clock that looks at these moments, in order, and every entry at the end."""
    held, told = list(entries), []
    for now in looks:
        found = look(plan, held, now)
        told += [(now, one) for one, _ in found]
        held += [fact for _, fact in found]
    return told, held
