"""Which cases are a rover's, now and at a moment, in which order, and what its own key may do with them."""

from collections.abc import Iterable, Sequence
from datetime import datetime

from county.domain.cases import Action, Case, CaseStep, State, worst_first
from county.errors import NotAllowed

ROVERS_ACTIONS = (
    Action.ACCEPT,
    Action.CANNOT,
    Action.UNDER_WAY,
    Action.ON_SITE,
    Action.CLEAR,
    Action.NOTE,
)
"""What a rover does with a case; all else is the desk's."""

_GIVEN = (Action.ASSIGN, Action.ACCEPT, Action.UNDER_WAY, Action.ON_SITE)
_TAKEN = (Action.CANNOT, Action.REOPEN)
_AT_ONCE = (State.ON_SITE, State.UNDER_WAY)


def in_order(cases: Iterable[Case], stops: Sequence[str]) -> list[Case]:
    """A rover's open cases as it sees to them: where it is, where it is under way to, then its stops in their order.

    `stops` are cases by name; what is not among them comes last, the worst first.
    """
    place_of = {case: number for number, case in enumerate(stops)}

    def key(case: Case) -> tuple[object, ...]:
        now = _AT_ONCE.index(case.state) if case.state in _AT_ONCE else len(_AT_ONCE)
        return (now, place_of.get(case.case, len(stops)), worst_first(case))

    return sorted((case for case in cases if case.state.open), key=key)


def rover_then(case: Case, at: datetime) -> str:
    """Which rover had the case at a moment (aware UTC); empty where none had."""
    rover = ""
    for step in case.steps:
        if step.at <= at and not step.of_another:
            rover = _after(step, rover)
    return rover


def ever_had(case: Case, rover: str) -> bool:
    """Whether this rover has the case, or had it once."""
    return case.rover == rover or any(
        step.rover == rover and step.action in _GIVEN and not step.of_another for step in case.steps
    )


def must_be_rovers(case: Case, rover: str, action: str, at: datetime) -> None:
    """Raises NotAllowed unless a rover's own key may do this: on a case it has, or had when it did it.

    What it did at a case that the desk has since given to another is kept as said, only ending the case is the other's.
    """
    if action not in ROVERS_ACTIONS:
        raise NotAllowed(f"{action} is for the desk")
    if not ever_had(case, rover):
        raise NotAllowed("this case is not assigned to you")
    if action == Action.CLEAR and rover not in (case.rover, rover_then(case, at)):
        raise NotAllowed(f"this case is {f'rover {case.rover}' if case.rover else 'the desk'}'s now")


def _after(step: CaseStep, rover: str) -> str:
    if step.action in _TAKEN:
        return ""
    return step.rover or rover if step.action in _GIVEN else rover
