"""What one deed makes of a case: a milestone reached, a rover sent or fallen away, the case ended or opened again."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from county.domain.cases import Action, Case, CaseStep, State
from county.domain.effects import Effect, worst
from county.domain.findings import Finding

_MILESTONES: Mapping[str, tuple[State, str]] = MappingProxyType(
    {
        Action.ACKNOWLEDGE: (State.ACKNOWLEDGED, "acknowledged_at"),
        Action.ASSIGN: (State.ASSIGNED, "assigned_at"),
        Action.ACCEPT: (State.ASSIGNED, "accepted_at"),
        Action.UNDER_WAY: (State.UNDER_WAY, "under_way_at"),
        Action.ON_SITE: (State.ON_SITE, "on_site_at"),
        Action.CLEAR: (State.CLEARED, "cleared_at"),
    }
)
_A_ROVERS = (Action.ACCEPT, Action.CANNOT, Action.UNDER_WAY, Action.ON_SITE)
_RANKS = {state: rank for rank, state in enumerate(State)}
_EFFECTS = frozenset(Effect)


def after(case: Case, step: CaseStep, news: Sequence[Finding]) -> Case:
    """The case after this deed; `news` is what was found there and learned since somebody did it."""
    if step.action == Action.CANNOT and not step.rover:
        step = replace(step, rover=case.rover)
    another = step.action in _A_ROVERS and bool(step.rover) and case.rover not in ("", step.rover)
    case = replace(case, steps=(*case.steps, replace(step, of_another=another)))
    if step.action == Action.EFFECT and step.effect in _EFFECTS:
        # what is reported after somebody lowered it counts again
        return replace(case, effect=worst(Effect(step.effect), *(finding.effect for finding in news)))
    if step.action == Action.REOPEN and not case.state.open:
        return _anew(case)
    if another or not case.state.open:
        return case
    if step.action == Action.WITHDRAW:
        return replace(case, state=State.WITHDRAWN, ended_at=step.at, cleared_says=_in_words(step))
    if step.action == Action.CANNOT:
        return _falls_away(case, step)
    milestone = _MILESTONES.get(step.action)
    return _reached(case, step, *milestone) if milestone else case


def _anew(case: Case) -> Case:
    """A case reopened: nobody has it yet; what was done before stays in its steps."""
    nobody = _without_rover(case)
    return replace(nobody, state=State.RAISED, acknowledged_at=None, cleared_at=None, ended_at=None, cleared_says="")


def _falls_away(case: Case, step: CaseStep) -> Case:
    """The rover cannot: the case is the desk's again. Where it had no rover, it has only been seen."""
    seen = replace(case, acknowledged_at=case.acknowledged_at or step.at)
    if case.rover:
        return replace(_without_rover(seen), state=State.ACKNOWLEDGED)
    return replace(seen, state=max(State.ACKNOWLEDGED, case.state, key=_RANKS.__getitem__))


def _without_rover(case: Case) -> Case:
    return replace(
        case, rover="", assigned_at=None, accepted_at=None, under_way_at=None, on_site_at=None, expected_at=None
    )


def _reached(case: Case, step: CaseStep, state: State, name: str) -> Case:
    """Reach a milestone; one already passed is only filled in, and a rover in another's stead begins the way anew."""
    if state is State.ASSIGNED and step.rover and case.rover not in ("", step.rover):
        case = replace(_without_rover(case), state=state)
    reached: dict[str, object] = {name: getattr(case, name) or step.at}
    if case.acknowledged_at is None:
        reached["acknowledged_at"] = step.at
    if state is State.CLEARED:
        return replace(case, **(reached | {"state": state, "ended_at": step.at, "cleared_says": _in_words(step)}))  # type: ignore[arg-type]
    if step.action == Action.ACCEPT and step.rover and case.assigned_at is None:
        # a rover that takes a case by itself has it
        reached["assigned_at"] = step.at
    reached["rover"] = case.rover or step.rover
    reached["state"] = max(state, case.state, key=_RANKS.__getitem__)
    reached["expected_at"] = step.expected_at or case.expected_at
    return replace(case, **reached)  # type: ignore[arg-type]


def _in_words(step: CaseStep) -> str:
    return f"{step.by}: {step.note}" if step.note else f"by {step.by}"
