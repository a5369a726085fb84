"""Which rovers are not to be suggested for a case, because they turned it down."""

from collections.abc import Iterable

from county.domain.cases import Action, Case
from county.domain.dispatch_field import Barred
from county.domain.milestones import reopenings

_TAKES_IT = (Action.ASSIGN, Action.ACCEPT, Action.UNDER_WAY, Action.ON_SITE)


def barred_by_word(cases: Iterable[Case]) -> Barred:
    """Whoever turned an open case down, until they are sent all the same, take it after all, or it is reopened."""
    return Barred(cannot=frozenset((case.case, rover) for case in cases if case.state.open for rover in _unable(case)))


def _unable(case: Case) -> set[str]:
    reopened = reopenings(case)
    unable: set[str] = set()
    for step in case.steps:
        if step in reopened:
            unable = set()
        elif step.action == Action.CANNOT and step.rover:
            unable.add(step.rover)
        elif step.action in _TAKES_IT:
            unable.discard(step.rover)
    return unable
