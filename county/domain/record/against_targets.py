"""Response times against the county's own targets: each case against the target of its own effect."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from types import MappingProxyType

from county.domain.cases import Case, troubles
from county.domain.milestones import Milestone
from county.domain.plan import Plan, Target
from county.domain.response import Response, response, times
from county.domain.survival import Outcome

TARGETS: Mapping[Milestone, Callable[[Target], int | None]] = MappingProxyType(
    {
        Milestone.ACKNOWLEDGED: lambda target: target.acknowledge,
        Milestone.ON_SITE: lambda target: target.on_site,
        Milestone.CLEARED: lambda target: target.clear,
    }
)
"""The milestones that a county sets itself a target for."""


@dataclass(frozen=True, slots=True)
class Kept:
    """How cases stand to their own targets: reached in time or later, waiting still in time or over it, ended
    otherwise, without a time, or of an effect for which the county set no target."""

    in_time: int = 0
    later: int = 0
    waiting: int = 0
    waiting_over: int = 0
    ended_otherwise: int = 0
    untimed: int = 0
    no_target: int = 0


@dataclass(frozen=True, slots=True)
class Row:
    """One group of cases: how soon the milestone was reached, and how that stands to the targets.

    `target` is the group's one target in minutes; None where its cases have several, or none.
    """

    group: str
    response: Response
    kept: Kept
    target: int | None


def target_of(case: Case, milestone: Milestone, plan: Plan) -> int | None:
    """The county's target for this case in minutes from raised; None where it set none."""
    of = TARGETS.get(milestone)
    return of(plan.targets.get(case.effect, Target())) if of else None


def response_rows(
    group: Callable[[Case], str], cases: Iterable[Case], milestone: Milestone, plan: Plan, now: datetime
) -> tuple[Row, ...]:
    """A row for each group (see response.groupings), the largest first; cases without a group under an empty name.

    Patterns are left out, as in every response time.
    """
    grouped: dict[str, list[Case]] = {}
    for case in troubles(cases):
        grouped.setdefault(group(case), []).append(case)
    rows = (_row(name, members, milestone, plan, now) for name, members in grouped.items())
    return tuple(sorted(rows, key=lambda row: (-row.response.cases, row.group)))


def kept(cases: Iterable[Case], milestone: Milestone, plan: Plan, now: datetime) -> Kept:
    """How these cases stand to their targets at `now`."""
    counted = dict.fromkeys(Kept.__dataclass_fields__, 0)
    for case in troubles(cases):
        counted[_how(case, milestone, plan, now)] += 1
    return Kept(**counted)


def _how(case: Case, milestone: Milestone, plan: Plan, now: datetime) -> str:
    target = target_of(case, milestone, plan)
    if target is None:
        return "no_target"
    waited = times([case], milestone, now)
    if waited.untimed:
        return "untimed"
    in_time, (outcome,) = waited.minutes[0] <= target, waited.outcomes
    if outcome is Outcome.REACHED:
        return "in_time" if in_time else "later"
    if outcome is Outcome.WAITING:
        return "waiting" if in_time else "waiting_over"
    return "ended_otherwise"


def _row(name: str, cases: list[Case], milestone: Milestone, plan: Plan, now: datetime) -> Row:
    targets = {target_of(case, milestone, plan) for case in cases}
    target = targets.pop() if len(targets) == 1 else None
    return Row(name, response(cases, milestone, now), kept(cases, milestone, plan, now), target)
