"""A case: one trouble at one place, the states it goes through and what people can do with it."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from county.domain.effects import Effect


class State(StrEnum):
    """Where a case stands on the response clock."""

    RAISED = "raised"
    ACKNOWLEDGED = "acknowledged"
    ASSIGNED = "assigned"
    UNDER_WAY = "under-way"
    ON_SITE = "on-site"
    CLEARED = "cleared"
    WITHDRAWN = "withdrawn"

    @property
    def open(self) -> bool:
        """Whether somebody still has to do something."""
        return self not in (State.CLEARED, State.WITHDRAWN)


class Action(StrEnum):
    """What a person can do with a case."""

    ACKNOWLEDGE = "acknowledge"
    ASSIGN = "assign"
    ACCEPT = "accept"
    CANNOT = "cannot"
    UNDER_WAY = "under-way"
    ON_SITE = "on-site"
    CLEAR = "clear"
    REOPEN = "reopen"
    WITHDRAW = "withdraw"
    NOTE = "note"
    EFFECT = "effect"


@dataclass(frozen=True, slots=True)
class CaseStep:
    """One step in a case's life: who did it, when it happened and when it was learned (aware UTC).

    `suggested` is the rover the board suggested when another or the same was assigned, `expected_at` when the rover is
    expected on site. `of_another` marks what a rover said that did not have the case then: it moves nothing.
    """

    action: str
    at: datetime
    learned_at: datetime
    by: str
    rover: str = ""
    effect: str = ""
    note: str = ""
    key: str = ""
    suggested: str = ""
    expected_at: datetime | None = None
    of_another: bool = False

    @property
    def overrides(self) -> bool:
        """Whether the desk sent another rover than the board suggested."""
        return self.action == Action.ASSIGN and bool(self.suggested) and self.suggested != self.rover


@dataclass(frozen=True, slots=True)
class Case:
    """One trouble at one place (and device), from raised to cleared. Times are aware UTC; None is not reached.

    `accepted_at` is when the rover that has the case said that it goes, `expected_at` when it is expected on site.
    A pattern stands at the place where it began: `of` is the kind of trouble that many places have, `links` the cases.
    """

    case: str
    place: str
    device: str
    exception: str
    effect: Effect
    raised_at: datetime
    learned_at: datetime
    raised_by: str
    state: State
    says: str
    needs_person: bool
    rover: str = ""
    acknowledged_at: datetime | None = None
    assigned_at: datetime | None = None
    accepted_at: datetime | None = None
    under_way_at: datetime | None = None
    on_site_at: datetime | None = None
    cleared_at: datetime | None = None
    ended_at: datetime | None = None
    cleared_says: str = ""
    expected: str = ""
    found: str = ""
    expected_at: datetime | None = None
    told: tuple[str, ...] = ()
    reports: tuple[str, ...] = ()
    steps: tuple[CaseStep, ...] = ()
    of: str = ""
    links: tuple[str, ...] = ()

    @property
    def is_pattern(self) -> bool:
        """Whether it is not a trouble of its own but links those of several places."""
        return bool(self.of)


def troubles(cases: Iterable[Case]) -> Iterator[Case]:
    """The cases that are a trouble of their own; patterns are left out: the cases they link count themselves."""
    return (case for case in cases if not case.is_pattern)


def case_id(place: str, exception: str, device: str, nth: int) -> str:
    """A case's name: the same whatever the order in which its reports arrived."""
    return ".".join([place, exception, *([device] if device else []), *([str(nth)] if nth > 1 else [])])


def worst_first(case: Case) -> tuple[bool, int, bool, datetime, str]:
    """Sort key: open before ended, worst effect first, unacknowledged first, longest waiting first."""
    return (not case.state.open, case.effect.rank, case.state is not State.RAISED, case.raised_at, case.case)
