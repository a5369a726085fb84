"""QUESTIONS: what a changed plan is asked about once more before it comes into force, because the day rests on it."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, fields
from datetime import timedelta
from typing import Any

from county.domain.effects import Effect
from county.domain.moments import whole_minutes
from county.domain.plan import Plan, Target


@dataclass(frozen=True, slots=True)
class Question:
    """One kind of change with a stable id; `asks` gives a sentence for each such change between two plans."""

    id: str
    asks: Callable[[Plan, Plan], Iterable[str]]


@dataclass(frozen=True, slots=True)
class Asked:
    """One dangerous change in a sentence, under the id of its row."""

    id: str
    says: str


def questions(before: Plan, after: Plan) -> tuple[Asked, ...]:
    """Every dangerous change from one plan to the next, in the order of the table; empty where there is none."""
    return tuple(Asked(row.id, says) for row in QUESTIONS for says in row.asks(before, after))


def _rehearsal(before: Plan, after: Plan) -> Iterator[str]:
    if before.election.rehearsal and not after.election.rehearsal:
        yield "From now on this is the real day: no page and no notice says rehearsal any more."
    elif after.election.rehearsal and not before.election.rehearsal:
        yield "From now on every page and every notice says that this is a rehearsal."


def _day(before: Plan, after: Plan) -> Iterator[str]:
    was, now = before.election, after.election
    if was.date != now.date:
        yield f"The election is on {now.date}, not {was.date}: what was reported for {was.date} no longer counts."
    if was.zone != now.zone:
        yield f"The county's time zone is {now.zone}, not {was.zone}: every due time moves."


def _hours(before: Plan, after: Plan) -> Iterator[str]:
    was, now = before.election, after.election
    if (was.opens, was.closes) != (now.opens, now.closes):
        yield (
            f"The usual hours are {now.opens:%H:%M} to {now.closes:%H:%M}, not {was.opens:%H:%M} to "
            f"{was.closes:%H:%M}: late openings and time lost are counted from them."
        )


def _steps_gone(before: Plan, after: Plan) -> Iterator[str]:
    for step in before.steps:
        if after.step(step.key) is None:
            yield f'The step "{step.key}" is gone: reports of it are refused, also from phones that are out of signal.'


def _steps_elsewhere(before: Plan, after: Plan) -> Iterator[str]:
    for step in before.steps:
        now = after.step(step.key)
        if now and (now.per_device, now.types) != (step.per_device, step.types):
            yield f'The step "{step.key}" is done on other devices than before: places may count as done or undone.'


def _kinds_gone(before: Plan, after: Plan) -> Iterator[str]:
    for key in before.exception_kinds:
        if key not in after.exception_kinds:
            yield f'The kind of trouble "{key}" is gone: reports of it are refused.'


def _told_no_more(before: Plan, after: Plan) -> Iterator[str]:
    for effect in (Effect.DANGER, Effect.STOPPED):
        was, now = _first_rung(before, effect), _first_rung(after, effect)
        if was is not None and now is None:
            yield f"Nobody is told any more of a case of {effect}."
        elif was is not None and now is not None and now > was:
            yield f"The first to be told of a case of {effect} is told {whole_minutes(now - was)} min later."


def _first_rung(plan: Plan, effect: Effect) -> timedelta | None:
    return min((rung.after for rung in plan.ladder if rung.effect is effect), default=None)


def _nobody_has(before: Plan, after: Plan) -> Iterator[str]:
    known = {word for person in after.people for word in (person.name, *person.roles)}
    had = {word for person in before.people for word in (person.name, *person.roles)}
    for role in dict.fromkeys(role for rung in after.ladder for role in rung.tell):
        if role in had and role not in known:
            yield f"Nobody has the role {role} any more, and the ladder tells it."


def _other_addresses(before: Plan, after: Plan) -> Iterator[str]:
    was = {person.name: person.notice for person in before.people}
    for person in after.people:
        if person.name in was and was[person.name] != person.notice:
            yield f"Notices reach {person.name} at another address."


_LATER_IS_WORSE = {
    "silent_after",
    "silent_after_before_opening",
    "wait_minutes",
    "count_old_after",
    "drift",
    "battery_minutes",
    "ballots_per_hour",
    "jams",
    "late_grace",
    "early_tolerance",
    "not_closed_after",
    "not_received_after",
    "on_the_way",
}
_LESS_IS_WORSE = {"copies", "signers", "officers", "route_inches", "door_inches", "ballots_margin", "ballots_ahead"}


def _looser(before: Plan, after: Plan) -> Iterator[str]:
    for field in fields(after.limits):
        was, now = (_limit(plan, field.name) for plan in (before, after))
        if (field.name in _LATER_IS_WORSE and now > was) or (field.name in _LESS_IS_WORSE and now < was):
            yield f"The limit {field.name} is looser: {_said(now)}, not {_said(was)}; the board raises less."


def _limit(plan: Plan, name: str) -> Any:
    """A limit of the plan; none at all is looser than any."""
    value = getattr(plan.limits, name)
    return timedelta.max if name == "on_the_way" and not value else value


def _items_gone(before: Plan, after: Plan) -> Iterator[str]:
    keys = {item.key for item in after.items}
    for item in before.items:
        if item.key not in keys:
            yield f'The item "{item.key}" is gone: nobody is asked for it, and nobody misses it.'


def _slower(before: Plan, after: Plan) -> Iterator[str]:
    for effect in Effect:
        was, now = before.targets.get(effect, Target()), after.targets.get(effect, Target())
        for field in fields(Target):
            old, new = getattr(was, field.name), getattr(now, field.name)
            if old is not None and (new is None or new > old):
                to = "gone" if new is None else f"{new} min, not {old}"
                yield f"The target to {field.name.replace('_', ' ')} a case of {effect} is {to}."


def _printed(before: Plan, after: Plan) -> Iterator[str]:
    if before.reach != after.reach:
        yield "The telephone or the text line's number is another: cards that are printed show the old one."
    changed = [
        key
        for key in sorted({*before.words, *after.words})
        if key.startswith("text_") and before.word(key) != after.word(key)
    ]
    if changed:
        yield f"Text lines begin with other words ({', '.join(changed)}): cards that are printed show the old ones."


def _instructions_gone(before: Plan, after: Plan) -> Iterator[str]:
    for kind in before.instructions:
        if kind not in after.instructions:
            yield f'The instruction for "{kind}" is gone: the general one is shown.'


QUESTIONS = (
    Question("rehearsal", _rehearsal),
    Question("day", _day),
    Question("hours", _hours),
    Question("step-gone", _steps_gone),
    Question("step-elsewhere", _steps_elsewhere),
    Question("kind-gone", _kinds_gone),
    Question("told-later", _told_no_more),
    Question("role-without-people", _nobody_has),
    Question("other-address", _other_addresses),
    Question("looser-limit", _looser),
    Question("item-gone", _items_gone),
    Question("slower-target", _slower),
    Question("printed-words", _printed),
    Question("instruction-gone", _instructions_gone),
)


def _said(value: object) -> str:
    if value == timedelta.max:
        return "none"
    return f"{whole_minutes(value)} min" if isinstance(value, timedelta) else str(value)
