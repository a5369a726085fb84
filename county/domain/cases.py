"""A case's life, raised to cleared, folded from findings and from what people did."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum

from county.domain.effects import Effect, worst
from county.domain.entries import Entry
from county.domain.exception_kinds import ExceptionKind
from county.domain.findings import Finding


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
    UNDER_WAY = "under-way"
    ON_SITE = "on-site"
    CLEAR = "clear"
    REOPEN = "reopen"
    WITHDRAW = "withdraw"
    NOTE = "note"
    EFFECT = "effect"


@dataclass(frozen=True, slots=True)
class CaseStep:
    """One step in a case's life: who did it, when it happened and when it was learned (aware UTC)."""

    action: str
    at: datetime
    learned_at: datetime
    by: str
    rover: str = ""
    effect: str = ""
    note: str = ""
    key: str = ""


@dataclass(frozen=True, slots=True)
class Case:
    """One trouble at one place (and device), from raised to cleared. Times are aware UTC; None is not reached."""

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
    under_way_at: datetime | None = None
    on_site_at: datetime | None = None
    cleared_at: datetime | None = None
    ended_at: datetime | None = None
    cleared_says: str = ""
    expected: str = ""
    found: str = ""
    told: tuple[str, ...] = ()
    reports: tuple[str, ...] = ()
    steps: tuple[CaseStep, ...] = ()


_MILESTONES: Mapping[str, tuple[State, str]] = {
    Action.ACKNOWLEDGE: (State.ACKNOWLEDGED, "acknowledged_at"),
    Action.ASSIGN: (State.ASSIGNED, "assigned_at"),
    Action.UNDER_WAY: (State.UNDER_WAY, "under_way_at"),
    Action.ON_SITE: (State.ON_SITE, "on_site_at"),
    Action.CLEAR: (State.CLEARED, "cleared_at"),
}
_RANKS = {state: rank for rank, state in enumerate(State)}


def case_id(place: str, exception: str, device: str, nth: int) -> str:
    """A case's name: the same whatever the order in which its reports arrived."""
    return ".".join([place, exception, *([device] if device else []), *([str(nth)] if nth > 1 else [])])


def cases_of(
    place: str, findings: Iterable[Finding], actions: Iterable[Entry], kinds: Mapping[str, ExceptionKind]
) -> tuple[Case, ...]:
    """Every case of one place, worst first, from what was found there and what people did.

    Findings of one kind on one device join the case that is open; after it has ended, the next is another case.
    """
    troubles: dict[tuple[str, str], list[Finding]] = {}
    for finding in findings:
        troubles.setdefault((finding.exception, finding.device), []).append(finding)
    if not troubles:
        return ()
    done: dict[str, list[Entry]] = {}
    for action in actions:
        done.setdefault(action.text("case"), []).append(action)
    cases = [
        case
        for (exception, device), found in troubles.items()
        for case in _lives(place, exception, device, found, done, kinds[exception].needs_person)
    ]
    return tuple(sorted(cases, key=worst_first))


def worst_first(case: Case) -> tuple[bool, int, bool, datetime, str]:
    """Sort key: open before ended, worst effect first, unacknowledged first, longest waiting first."""
    return (not case.state.open, case.effect.rank, case.state is not State.RAISED, case.raised_at, case.case)


def _lives(
    place: str,
    exception: str,
    device: str,
    found: Sequence[Finding],
    done: Mapping[str, Sequence[Entry]],
    needs_person: bool,
) -> list[Case]:
    """The cases of one trouble in order: a finding joins the case that is open; one after its end begins another."""
    lives: list[Case] = []
    joined: list[Finding] = []
    for finding in sorted(found, key=lambda each: (each.since, each.cause)):
        if joined and not _ended_by(lives[-1], finding.since):
            joined.append(finding)
            lives.pop()
        else:
            joined = [finding]
        name = case_id(place, exception, device, len(lives) + 1)
        lives.append(_live(_begun(name, place, joined, needs_person), joined, done.get(name, ())))
    return lives


def _ended_by(case: Case, moment: datetime) -> bool:
    return case.ended_at is not None and case.ended_at <= moment


def _begun(name: str, place: str, joined: Sequence[Finding], needs_person: bool) -> Case:
    first, latest = joined[0], joined[-1]
    standing = [finding for finding in joined if finding.gone_at is None] or joined
    says = dict.fromkeys(finding.says for finding in joined)
    gone = dict.fromkeys(f"({finding.gone_says})" for finding in joined if finding.gone_at)
    return Case(
        case=name,
        place=place,
        device=first.device,
        exception=first.exception,
        effect=worst(*(finding.effect for finding in standing)),
        raised_at=first.since,
        learned_at=min(finding.learned_at for finding in joined),
        raised_by=min(joined, key=lambda each: (each.learned_at, each.cause)).by,
        state=State.RAISED,
        says=" ".join(["; ".join(says), *gone]),
        needs_person=needs_person,
        expected=latest.expected,
        found=latest.found,
        reports=tuple(finding.cause for finding in joined),
    )


def _live(case: Case, joined: Sequence[Finding], actions: Iterable[Entry]) -> Case:
    """The case after everything people did, and after the facts ended it where they may, in the order of time."""
    steps = [
        CaseStep(
            action=entry.text("action"),
            at=entry.happened_at,
            learned_at=entry.received_at,
            by=entry.by,
            rover=entry.text("rover"),
            effect=entry.text("effect"),
            note=entry.text("note"),
            key=entry.key,
        )
        for entry in actions
    ]
    ended = None if case.needs_person else _ended_by_facts(joined)
    for step in sorted([*steps, *([ended] if ended else [])], key=lambda each: (each.at, each.learned_at, each.key)):
        case = _after(case, step)
    return case


def _ended_by_facts(joined: Sequence[Finding]) -> CaseStep | None:
    """The moment the last of the findings was ended by facts, or no longer stood; None while one still stands."""
    ends = [(finding.clears_at or finding.gone_at, finding) for finding in joined]
    known = [(at, finding) for at, finding in ends if at is not None]
    if len(known) < len(joined):
        return None
    at, last = max(known, key=lambda each: (each[0], each[1].cause))
    gone = all(finding.clears_at is None for finding in joined)
    action = Action.WITHDRAW if gone else Action.CLEAR
    return CaseStep(action, at, at, "the facts", note=last.gone_says if gone else last.clears_says)


def _after(case: Case, step: CaseStep) -> Case:
    case = replace(case, steps=(*case.steps, step))
    if step.action == Action.EFFECT and step.effect:
        return replace(case, effect=Effect(step.effect))
    if step.action == Action.REOPEN and not case.state.open:
        return _anew(case)
    if not case.state.open:
        return case
    if step.action == Action.WITHDRAW:
        return replace(case, state=State.WITHDRAWN, ended_at=step.at, cleared_says=_in_words(step))
    milestone = _MILESTONES.get(step.action)
    return _reached(case, step, *milestone) if milestone else case


def _anew(case: Case) -> Case:
    """A case reopened: nobody has it yet; what was done before stays in its steps."""
    return replace(
        case,
        state=State.RAISED,
        rover="",
        acknowledged_at=None,
        assigned_at=None,
        under_way_at=None,
        on_site_at=None,
        cleared_at=None,
        ended_at=None,
        cleared_says="",
    )


def _reached(case: Case, step: CaseStep, state: State, name: str) -> Case:
    """Reach a milestone; one already passed is only filled in, and another rover begins the way anew."""
    reached: dict[str, object] = {name: getattr(case, name) or step.at}
    if case.acknowledged_at is None:
        reached["acknowledged_at"] = step.at
    if state is State.CLEARED:
        reached |= {"state": state, "ended_at": step.at, "cleared_says": _in_words(step)}
    elif state is State.ASSIGNED and step.rover and step.rover != case.rover:
        reached |= {
            "state": state,
            "rover": step.rover,
            "assigned_at": step.at,
            "under_way_at": None,
            "on_site_at": None,
        }
    elif _RANKS[state] > _RANKS[case.state]:
        reached["state"] = state
    return replace(case, **reached)  # type: ignore[arg-type]


def _in_words(step: CaseStep) -> str:
    return f"{step.by}: {step.note}" if step.note else f"by {step.by}"
