"""A case's life, raised to cleared, folded from findings and from what people did."""

from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from itertools import count

from county.domain.case_deeds import after
from county.domain.cases import Action, Case, CaseStep, State, case_id, worst_first
from county.domain.effects import worst
from county.domain.entries import Entry
from county.domain.exception_kinds import SAME_TROUBLE, ExceptionKind
from county.domain.findings import Finding
from county.domain.moments import parse_moment

_ENDING = (Action.CLEAR, Action.WITHDRAW)
_SAID = 3


def cases_of(
    place: str,
    findings: Iterable[Finding],
    actions: Iterable[Entry],
    kind: Callable[[str], ExceptionKind],
    devices: Container[str] = (),
) -> tuple[Case, ...]:
    """Every case of one place, worst first, from what was found there and what people did.

    Findings of one kind on one device join the case that is open; after it has ended, the next is another case. What
    people did with a case that no report shows any longer keeps that case on the board until a person ends it.
    """
    troubles: dict[tuple[str, str], list[Finding]] = {}
    for finding in findings:
        troubles.setdefault((finding.exception, finding.device or finding.of), []).append(finding)
    done: dict[str, list[Entry]] = {}
    for action in actions:
        done.setdefault(action.text("case"), []).append(action)
    cases = [
        case
        for (exception, about), found in troubles.items()
        for case in _lives(_names(place, exception, about, devices), place, found, done, kind(exception).needs_person)
    ]
    unshown = done.keys() - {case.case for case in cases}
    cases += [_unshown(name, place, done[name], kind) for name in unshown]
    return tuple(sorted(cases, key=worst_first))


def _names(place: str, exception: str, device: str, devices: Container[str]) -> Iterator[str]:
    """The first case's name, the second's and so on; never one that the first case of another device would have."""
    yield case_id(place, exception, device, 1)
    for nth in count(2):
        if (f"{device}.{nth}" if device else str(nth)) not in devices:
            yield case_id(place, exception, device, nth)


def _lives(
    names: Iterator[str], place: str, found: Sequence[Finding], done: Mapping[str, Sequence[Entry]], needs_person: bool
) -> list[Case]:
    """The cases of one trouble, numbered in the order learned, so that a late report never renames an earlier case."""
    lives: list[tuple[Case, list[Finding]]] = []
    for finding in sorted(found, key=lambda each: (each.learned_at, each.since, each.cause)):
        at = next((n for n in reversed(range(len(lives))) if _belongs(finding, lives[n][0])), None)
        name, joined = (next(names), []) if at is None else (lives[at][0].case, lives[at][1])
        joined = sorted([*joined, finding], key=lambda each: (each.since, each.cause))
        life = _live(_begun(name, place, joined, needs_person), joined, done.get(name, ()))
        if at is None:
            lives.append((life, joined))
        else:
            lives[at] = life, joined
    return [case for case, _ in lives]


def _belongs(finding: Finding, case: Case) -> bool:
    """Whether a finding is part of this case: it was so while the case was, and not news to whoever ended it."""
    over = finding.clears_at or finding.gone_at
    if finding.since != case.raised_at:
        if over is not None and over <= case.raised_at:
            return False
        if case.ended_at is not None and case.ended_at <= finding.since:
            return False
    ending = next((s for s in reversed(case.steps) if s.at == case.ended_at and s.action in _ENDING), None)
    return ending is None or not ending.key or finding.learned_at <= ending.learned_at


def _begun(name: str, place: str, joined: Sequence[Finding], needs_person: bool) -> Case:
    first, latest = joined[0], joined[-1]
    gone = dict.fromkeys(f"({finding.gone_says})" for finding in joined if finding.gone_at)
    return Case(
        case=name,
        place=place,
        device=first.device,
        exception=first.exception,
        effect=worst(*(finding.effect for finding in _standing(joined))),
        raised_at=first.since,
        learned_at=min(finding.learned_at for finding in joined),
        raised_by=min(joined, key=lambda each: (each.learned_at, each.cause)).by,
        state=State.RAISED,
        says=" ".join([_in_brief(joined), *gone]),
        needs_person=needs_person,
        expected=latest.expected,
        found=latest.found,
        reports=tuple(finding.cause for finding in joined),
        of=first.of,
        links=tuple(dict.fromkeys(name for finding in joined for name in finding.links)),
    )


def _in_brief(joined: Sequence[Finding]) -> str:
    """What was found, in a line: what still stands before what is over, a few of it, and how much more there is."""
    over = [finding.clears_at is not None or finding.gone_at is not None for finding in joined]
    says = tuple(dict.fromkeys(f.says for _, f in sorted(zip(over, joined, strict=True), key=lambda each: each[0])))
    more = len(says) - _SAID
    return "; ".join(says[:_SAID]) + (f"; and {more} more" if more > 0 else "")


def _standing(joined: Sequence[Finding]) -> Sequence[Finding]:
    """The findings that no correction has ended; all of them where none is left."""
    return [finding for finding in joined if finding.gone_at is None] or joined


def _unshown(name: str, place: str, actions: Sequence[Entry], kind: Callable[[str], ExceptionKind]) -> Case:
    """The case of which only what people did is left: late reports have shown that its facts were others."""
    exception, _, about = name.removeprefix(f"{place}.").partition(".")
    of_pattern = exception == SAME_TROUBLE
    first = min(actions, key=lambda entry: (entry.received_at, entry.key))
    case = Case(
        case=name,
        place=place,
        device="" if of_pattern else about,
        exception=exception,
        effect=kind(exception).effect,
        raised_at=min(entry.happened_at for entry in actions),
        learned_at=first.received_at,
        raised_by=first.by,
        state=State.RAISED,
        says="later reports no longer show this; a person has to end it",
        needs_person=True,
        of=about if of_pattern else "",
    )
    return _live(case, (), actions)


def _live(case: Case, joined: Sequence[Finding], actions: Iterable[Entry]) -> Case:
    """The case after everything people did, and after the facts ended it where they may, in the order of time."""
    steps = [_step(entry) for entry in actions]
    ended = None if case.needs_person else _ended_by_facts(joined)
    for step in sorted([*steps, *([ended] if ended else [])], key=lambda each: (each.at, each.learned_at, each.key)):
        case = after(case, step, [finding for finding in _standing(joined) if finding.learned_at > step.learned_at])
    return case


def _step(entry: Entry) -> CaseStep:
    return CaseStep(
        action=entry.text("action"),
        at=entry.happened_at,
        learned_at=entry.received_at,
        by=entry.by,
        rover=entry.text("rover"),
        effect=entry.text("effect"),
        note=entry.text("note"),
        key=entry.key,
        suggested=entry.text("suggested"),
        expected_at=_moment(entry.text("expected_at")),
    )


def _moment(told: str) -> datetime | None:
    """A moment that intake has read before; None where none was told, or none that can be read."""
    try:
        return parse_moment(told) if told else None
    except ValueError:
        return None


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
