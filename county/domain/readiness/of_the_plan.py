"""What the plan leaves open, and what in it is not yet the county's own."""

from collections.abc import Iterator

from county.domain.effects import Effect
from county.domain.expected import wall
from county.domain.fitting import roles_without_people
from county.domain.readiness.facts import Facts
from county.domain.shifts import on_shift


def still_a_rehearsal(facts: Facts) -> Iterator[str]:
    if facts.plan.election.rehearsal:
        yield "rehearsal = true"


def day_is_past(facts: Facts) -> Iterator[str]:
    if facts.plan.election.date < facts.today:
        yield f"{facts.plan.election.date}"


def no_instruction(facts: Facts) -> Iterator[str]:
    """Kinds of trouble for which the county has written nothing: the general text, which names no remedy, is shown."""
    plan = facts.plan
    return (kind.says for key, kind in plan.exception_kinds.items() if not plan.instructions.get(key))


def nobody_to_tell(facts: Facts) -> Iterator[str]:
    told = {rung.effect for rung in facts.plan.ladder}
    return (str(effect) for effect in (Effect.DANGER, Effect.STOPPED) if effect not in told)


def role_without_people(facts: Facts) -> Iterator[str]:
    return (problem.field.removeprefix("ladder, ") for problem in roles_without_people(facts.plan))


def role_off_shift(facts: Facts) -> Iterator[str]:
    """Roles that somebody has, but nobody while a place opens."""
    plan = facts.plan
    kinds = {(place.opens or plan.election.opens, place.time_zone): place for place in facts.roster.places}
    opens = {wall(plan, place, clock) for (clock, _), place in kinds.items()}
    without = {problem.field.removeprefix("ladder, ") for problem in roles_without_people(facts.plan)}
    for role in dict.fromkeys(role for rung in facts.plan.ladder for role in rung.tell):
        if role not in without and any(not on_shift(facts.plan, role, at) for at in opens):
            yield role


def unreachable(facts: Facts) -> Iterator[str]:
    return (f"{each.field.removeprefix('person ')}: {each.says}" for each in facts.unreachable)


def password_in_plan(facts: Facts) -> Iterator[str]:
    return (each.field.removeprefix("person ") for each in facts.exposed)


def file_differs(facts: Facts) -> Iterator[str]:
    if facts.file_differs:
        yield "plan.toml"


def no_telephone(facts: Facts) -> Iterator[str]:
    if not facts.plan.reach.phone:
        yield "[reach] phone"


def clock_set(facts: Facts) -> Iterator[str]:
    if not facts.real_clock:
        yield "POLLRISE_NOW is set"
