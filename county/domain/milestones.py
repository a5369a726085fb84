"""The milestones of the response clock, and when a case first reached each."""

from collections.abc import Iterator, Mapping
from datetime import datetime
from enum import StrEnum
from types import MappingProxyType

from county.domain.cases import Action, Case, CaseStep, State


class Milestone(StrEnum):
    """What is waited for after a case was raised, in order."""

    ACKNOWLEDGED = "acknowledged"
    ASSIGNED = "assigned"
    UNDER_WAY = "under-way"
    ON_SITE = "on-site"
    CLEARED = "cleared"

    @property
    def later_on_the_way(self) -> tuple["Milestone", ...]:
        """Those that cannot well be reached before this one; a case may be cleared without anybody having gone."""
        return _LATER[self]


_LATER: Mapping[Milestone, tuple[Milestone, ...]] = MappingProxyType(
    {
        Milestone.ACKNOWLEDGED: (Milestone.ASSIGNED, Milestone.UNDER_WAY, Milestone.ON_SITE),
        Milestone.ASSIGNED: (Milestone.UNDER_WAY, Milestone.ON_SITE),
        Milestone.UNDER_WAY: (Milestone.ON_SITE,),
        Milestone.ON_SITE: (),
        Milestone.CLEARED: (),
    }
)

_ON_THE_WAY = (Milestone.ASSIGNED, Milestone.UNDER_WAY, Milestone.ON_SITE)

# whoever does anything with a case has seen it, so every deed acknowledges
_REACHED_BY: Mapping[Milestone, tuple[Action, ...]] = MappingProxyType(
    {
        Milestone.ACKNOWLEDGED: (
            Action.ACKNOWLEDGE,
            Action.ASSIGN,
            Action.ACCEPT,
            Action.CANNOT,
            Action.UNDER_WAY,
            Action.ON_SITE,
            Action.CLEAR,
        ),
        Milestone.ASSIGNED: (Action.ASSIGN, Action.ACCEPT),
        Milestone.UNDER_WAY: (Action.UNDER_WAY,),
        Milestone.ON_SITE: (Action.ON_SITE,),
        Milestone.CLEARED: (Action.CLEAR,),
    }
)


def by_a_person(step: CaseStep) -> bool:
    """Whether somebody did this; what the facts themselves ended stands in no entry and so has no key."""
    return bool(step.key)


def reopenings(case: Case) -> tuple[CaseStep, ...]:
    """The steps that opened the case again after it had ended; reopening an open case is none."""
    return tuple(step for step, was_open in _with_state(case) if step.action == Action.REOPEN and not was_open)


def first_time(case: Case, milestone: Milestone) -> datetime | None:
    """When the milestone was first reached by a person's doing, also before a reopening; None where it was not.

    What a rover said that did not have the case reaches nothing.
    `cleared` is the time that stands, whoever or whatever cleared it: a case that was reopened had not been cleared.
    """
    if milestone is Milestone.CLEARED:
        return case.cleared_at if case.state is State.CLEARED else None
    deeds = _REACHED_BY[milestone]
    moved = (step for step, was_open in _with_state(case) if was_open and by_a_person(step) and not step.of_another)
    return next((step.at for step in moved if step.action in deeds), None)


def has_reached(case: Case, milestone: Milestone) -> bool:
    """Whether the case, since it was last opened and with the rover it has, is at the milestone or beyond it.

    Nobody goes to a pattern, its cases have rovers of their own: whoever acknowledged it has it in hand.
    """
    if case.is_pattern and milestone in _ON_THE_WAY:
        milestone = Milestone.ACKNOWLEDGED
    times = {
        Milestone.ACKNOWLEDGED: case.acknowledged_at,
        Milestone.ASSIGNED: case.assigned_at,
        Milestone.UNDER_WAY: case.under_way_at,
        Milestone.ON_SITE: case.on_site_at,
        Milestone.CLEARED: case.cleared_at,
    }
    return any(times[each] for each in (milestone, *_LATER[milestone]))


def _with_state(case: Case) -> Iterator[tuple[CaseStep, bool]]:
    """Each step of the case's life, and whether the case was open when it was done."""
    is_open = True
    for step in case.steps:
        yield step, is_open
        is_open = step.action == Action.REOPEN or (is_open and step.action not in (Action.CLEAR, Action.WITHDRAW))
