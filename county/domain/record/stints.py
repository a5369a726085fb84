"""A rover's stint with a case: given to it, on the way, on site, and how it ended."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime

from county.domain.cases import Action, Case, CaseStep

_HOLDING = (Action.ASSIGN, Action.ACCEPT, Action.UNDER_WAY, Action.ON_SITE)
_ENDING = (Action.CLEAR, Action.WITHDRAW)


@dataclass(frozen=True, slots=True)
class Stint:
    """One rover with one case. Times are aware UTC, None where it was not reached or nobody said when.

    `ended` is the deed that ended it: clear, withdraw, cannot, or assign where it went to another; empty till then.
    """

    rover: str
    case: str
    place: str
    given_at: datetime
    under_way_at: datetime | None = None
    on_site_at: datetime | None = None
    ended_at: datetime | None = None
    ended: str = ""


def stints(case: Case) -> Iterator[Stint]:
    """Every stint with a case, in order; what a rover said that did not have the case begins none."""
    now: Stint | None = None
    for step in case.steps:
        if step.of_another:
            continue
        if now and _ends(step, now):
            yield replace(now, ended_at=step.at, ended=step.action)
            now = None
        if step.action in _HOLDING:
            now = _further(now, step, case)
    if now:
        yield now


def _ends(step: CaseStep, now: Stint) -> bool:
    given_over = step.action == Action.ASSIGN and step.rover not in ("", now.rover)
    return given_over or step.action in _ENDING or step.action == Action.CANNOT


def _further(now: Stint | None, step: CaseStep, case: Case) -> Stint | None:
    if now is None:
        if not step.rover:
            return None
        now = Stint(step.rover, case.case, case.place, step.at)
    if step.action == Action.UNDER_WAY and now.under_way_at is None:
        return replace(now, under_way_at=step.at)
    if step.action == Action.ON_SITE and now.on_site_at is None:
        return replace(now, on_site_at=step.at)
    return now
