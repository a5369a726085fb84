"""Exceptions by kind: how many cases, how they ended, at how many places, and how long until they were cleared."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from county.domain.cases import Case, State
from county.domain.effects import Effect
from county.domain.milestones import Milestone, by_a_person
from county.domain.plan import Plan
from county.domain.response import Response, response


@dataclass(frozen=True, slots=True)
class KindCount:
    """The cases of one kind. `worst` is the worst effect any of them has now; `cleared_by_facts` of `cleared`
    needed nobody to say so, because a report showed it. `clearing` says how long it took, open ones censored."""

    exception: str
    says: str
    worst: Effect
    cases: int
    places: int
    open: int
    cleared: int
    withdrawn: int
    cleared_by_facts: int
    clearing: Response


def by_kind(cases: Iterable[Case], plan: Plan, now: datetime) -> tuple[KindCount, ...]:
    """Each kind that came up, the worst effect first, then the most frequent."""
    of_kind: dict[str, list[Case]] = {}
    for case in cases:
        of_kind.setdefault(case.exception, []).append(case)
    counted = (_count(kind, members, plan, now) for kind, members in of_kind.items())
    return tuple(sorted(counted, key=lambda each: (each.worst.rank, -each.cases, each.exception)))


def _count(kind: str, cases: list[Case], plan: Plan, now: datetime) -> KindCount:
    cleared = [case for case in cases if case.state is State.CLEARED]
    return KindCount(
        exception=kind,
        says=plan.kind(kind).says,
        worst=min((case.effect for case in cases), key=lambda effect: effect.rank),
        cases=len(cases),
        places=len({case.place for case in cases}),
        open=sum(case.state.open for case in cases),
        cleared=len(cleared),
        withdrawn=sum(case.state is State.WITHDRAWN for case in cases),
        cleared_by_facts=sum(_by_facts(case) for case in cleared),
        clearing=response(cases, Milestone.CLEARED, now),
    )


def _by_facts(case: Case) -> bool:
    return not any(by_a_person(step) and step.action == "clear" and step.at == case.cleared_at for step in case.steps)
