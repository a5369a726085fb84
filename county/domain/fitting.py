"""Whether roster and plan fit each other: what neither shows by itself."""

from collections.abc import Iterator

from county.domain.plan import Plan
from county.domain.roster import Roster
from county.errors import Problem


def misfits(roster: Roster, plan: Plan) -> tuple[Problem, ...]:
    """Every misfit; each `field` names the row (`place P014`) or the step it is about, and warnings are marked."""
    return (
        *_hours(roster, plan),
        *_steps_without_devices(roster, plan),
        *_sealed_but_never_checked(roster, plan),
        *roles_without_people(plan),
        *_needs_that_no_rover_meets(roster, plan),
    )


def _hours(roster: Roster, plan: Plan) -> Iterator[Problem]:
    """A place whose own opening, with the plan's closing, makes no day; or the other way round."""
    for place in roster.places:
        opens, closes = place.opens or plan.election.opens, place.closes or plan.election.closes
        if closes <= opens and closes.hour + closes.minute:
            yield Problem(f"place {place.place}", f"opens {opens:%H:%M}, closes {closes:%H:%M}, with the plan's hours")


def _steps_without_devices(roster: Roster, plan: Plan) -> Iterator[Problem]:
    """A step to be done on a type of device that nobody has would never be missed."""
    held = {device.type for device in roster.devices}
    for step in plan.steps:
        for type_ in step.types:
            if held and type_ not in held:
                yield Problem(f"step {step.key}", f"no device of type {type_} is in the roster", warning=True)


def _sealed_but_never_checked(roster: Roster, plan: Plan) -> Iterator[Problem]:
    """Devices with recorded seals that no step asks anybody to look at."""
    looked_at = {type_ for step in plan.steps if step.key == "seals-checked" for type_ in step.types}
    sealed = {roster.device_by_id[device].type for device in roster.seals_on if device in roster.device_by_id}
    for type_ in sorted(sealed - looked_at):
        yield Problem(
            "step seals-checked", f"devices of type {type_} have seals, but it is not done on them", warning=True
        )


def _needs_that_no_rover_meets(roster: Roster, plan: Plan) -> Iterator[Problem]:
    """Kinds of trouble for which no rover has the skill or carries the spare, so that nobody could be suggested."""
    skills = {skill.casefold() for rover in roster.rovers for skill in rover.skills}
    spares = {spare.casefold() for rover in roster.rovers for spare in rover.carries}
    missing: dict[str, list[str]] = {}
    for kind in plan.exception_kinds:
        need = plan.dispatch.need(kind)
        for what, word, had in (("skill", need.skill, skills), ("spare", need.spare, spares)):
            if need.rover and roster.rovers and word and word.casefold() not in had:
                missing.setdefault(f"{what} {word}", []).append(kind)
    for what, kinds in missing.items():
        yield Problem(f"dispatch, {what}", f"no rover has it, and it is needed for {', '.join(kinds)}", warning=True)


def roles_without_people(plan: Plan) -> Iterator[Problem]:
    """Roles of the ladder that nobody has, a warning each: the plan can be used, and the board will say so."""
    known = {word for person in plan.people for word in (person.name, *person.roles)}
    for role in dict.fromkeys(role for rung in plan.ladder for role in rung.tell):
        if role not in known:
            yield Problem(f"ladder, {role}", "no person in the plan has this role", warning=True)
