"""A case as the officers at the place are told of it: what was found, the county's instruction, who is coming."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from county.domain.cases import Case, State
from county.domain.entries import Entry
from county.domain.outside import says_outside
from county.domain.plan import Plan
from county.domain.roster import Roster
from ingest.phone.wall import Wall

OFFICE_ONLY = frozenset(
    {
        "silent",
        "message-unseen",
        "step-overdue",
        "expected-late",
        "not-closed",
        "not-received",
        "custody-gap",
        "same-trouble",
        "clock-ahead",
        "clock-not-changed",
        "drift",
    }
)
"""Kinds that are the office's to follow, with instructions written for the office."""


@dataclass(frozen=True, slots=True)
class Told:
    """One case in words for the place. `progress` is what the office does about it, latest last.

    `take_back` is the key of the place's own report of trouble that the case rests on, or empty.
    """

    case: str
    exception: str
    device: str
    effect: str
    title: str
    says: str
    instruction: str
    since: str
    progress: tuple[str, ...]
    open: bool
    needs_person: bool
    take_back: str = ""


def told(case: Case, plan: Plan, roster: Roster, wall: Wall, own: Collection[str] = ()) -> Told:
    """This case in words; `wall` writes a moment as the place's time of day; `own` are its own reports of trouble."""
    return Told(
        case=case.case,
        exception=case.exception,
        device=case.device,
        effect=case.effect.value,
        title=plan.kind(case.exception).says,
        says=says_outside(case),
        instruction=plan.instruction(case.exception),
        since=wall(case.raised_at),
        progress=tuple(_progress(case, plan, roster, wall)),
        open=case.state.open,
        needs_person=case.needs_person,
        take_back=next((key for key in reversed(case.reports) if key in own), ""),
    )


def raised_by(entry: Entry, cases: tuple[Case, ...]) -> tuple[Case, ...]:
    """The cases that this report raised or joined."""
    return tuple(
        case
        for case in cases
        if case.exception not in OFFICE_ONLY
        and any(cause == entry.key or cause.startswith(f"{entry.key}:") for cause in case.reports)
    )


def _progress(case: Case, plan: Plan, roster: Roster, wall: Wall) -> Iterator[str]:
    office = plan.word("office")
    if case.state is State.CLEARED:
        when = f" {wall(case.cleared_at)}" if case.cleared_at else ""
        yield f"Cleared{when}. {_sentence(case.cleared_says)}"
        return
    if case.state is State.WITHDRAWN:
        yield f"Withdrawn. {_sentence(case.cleared_says)}"
        return
    if case.acknowledged_at is None:
        yield f"The {office} has been told. Nobody there has taken it up yet."
        return
    yield f"Taken up by the {office} {wall(case.acknowledged_at)}."
    who = _rover(case, plan, roster)
    steps = (
        (case.assigned_at, f"{who} is asked to come"),
        (case.accepted_at, f"{who} is coming"),
        (case.under_way_at, f"{who} is on the way"),
        (case.on_site_at, f"{who} is with you"),
    )
    for at, says in steps:
        if at is not None:
            yield f"{says}, {wall(at)}."
    if case.expected_at is not None and case.on_site_at is None:
        yield f"{who} expected about {wall(case.expected_at)}."


def _rover(case: Case, plan: Plan, roster: Roster) -> str:
    rover = roster.rover_by_id.get(case.rover)
    word = plan.word("rover")
    if rover is None:
        return f"A {word}"
    return f"{word[:1].upper()}{word[1:]} {rover.rover}, {rover.name}," if rover.name else f"{word} {rover.rover}"


def _sentence(said: str) -> str:
    return f"{said[:1].upper()}{said[1:]}." if said else ""
