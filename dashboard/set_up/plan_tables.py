"""A plan as tables that people can read: steps, limits, targets, the ladder, the people, words, instructions."""

from collections.abc import Callable, Mapping
from dataclasses import fields
from datetime import timedelta

from county.domain.effects import Effect
from county.domain.plan import WORDS, Anchor, Plan, Rung, Step, Target
from dashboard import words
from dashboard.markup import Markup, quiet, tag, text
from dashboard.set_up import plan_more_tables
from dashboard.set_up.plan_cells import cell, length, table

_NOT_YET = {
    "acknowledged": "nobody has acknowledged it",
    "on-site": "nobody is on site",
    "cleared": "it is not cleared",
}


def election(plan: Plan) -> Markup:
    """Which election, when, where, and how places reach the office."""
    day = plan.election
    said = (
        ("Election", f"{day.name}, {day.county}"),
        ("Date", f"{day.date:%A}, {day.date:%B} {day.date.day}, {day.date.year}"),
        ("Usual hours", f"{day.opens:%H:%M} to {day.closes:%H:%M}, {day.zone}"),
        ("Rehearsal", "yes: every page and notice says so" if day.rehearsal else "no: this is the day itself"),
        ("The office's telephone", plan.reach.phone or "not said"),
        ("Text lines go to", plan.reach.text_line or "not said"),
    )
    return tag("dl", *(tag("dt", text(name)) + tag("dd", text(value)) for name, value in said), cls="pr-facts")


def steps(plan: Plan) -> Markup:
    """Every step, when it is due and on what it is done."""
    rows = ((step.says, _due(step), _grace(step), _on(step, plan)) for step in plan.steps)
    return table(("Step", "Due", "Overdue after", "Done on"), rows)


def _due(step: Step) -> str:
    seconds = int(step.due.total_seconds())
    anchor = "opening" if step.anchor is Anchor.OPENING else "closing"
    if not seconds:
        return f"at {anchor}"
    return f"{length(timedelta(seconds=abs(seconds)))} {'before' if seconds < 0 else 'after'} {anchor}"


def _grace(step: Step) -> str:
    return length(step.grace) if step.grace else "at once"


def _on(step: Step, plan: Plan) -> str:
    if not step.per_device:
        return f"the {plan.word('place')}"
    return f"every {words.listed([plan.word(type_) for type_ in step.types], 'and')}"


def limits(plan: Plan) -> Markup:
    """Every limit, by the name that the text has for it."""
    named = ((field.name, getattr(plan.limits, field.name)) for field in fields(plan.limits))
    return table(("Limit", "Is"), ((name, cell(value)) for name, value in named))


def targets(plan: Plan) -> Markup:
    """Minutes the county gives itself, by effect."""
    rows = []
    for effect in Effect:
        target = plan.targets.get(effect, Target())
        minutes = (getattr(target, field.name) for field in fields(Target))
        rows.append((words.EFFECT[effect], *("none" if each is None else f"{each} min" for each in minutes)))
    return table(("Effect", "Acknowledged in", "On site in", "Cleared in"), rows)


def ladder(plan: Plan) -> Markup:
    """Who is told of which effect, when, and unless what."""
    return table(("Effect", "Told", "When"), (_rung(rung) for rung in plan.ladder))


def _rung(rung: Rung) -> tuple[str, str, str]:
    when = f"after {length(rung.after)}, if {_NOT_YET[rung.unless]}" if rung.after else "at once"
    return words.EFFECT[rung.effect], words.listed(rung.tell, "and"), when


def people(plan: Plan) -> Markup:
    """Whom the ladder tells, by what way, on which shift. An address is never shown: it may hold a password."""
    rows = (
        (
            person.name,
            words.listed(person.roles, "and"),
            person.notice.partition(":")[0],
            f"{person.starts:%H:%M} to {person.ends:%H:%M}" if person.starts and person.ends else "all the time",
        )
        for person in plan.people
    )
    return table(("Person", "Roles", "Reached by", "Shift"), rows)


def own_words(plan: Plan) -> Markup:
    """What this county calls things."""
    return table(("Word", "Here"), ((key, plan.word(key)) for key in WORDS))


def instructions(plan: Plan) -> Markup:
    """The county's own text by kind of trouble; the general one where it has none."""
    rows = [
        (kind.says, plan.instruction(key), bool(plan.instructions.get(key)))
        for key, kind in plan.exception_kinds.items()
    ]
    rows.sort(key=lambda row: row[2])
    head = tag("tr", *(tag("th", text(name), scope="col") for name in ("Trouble", "Instruction")))
    body = (
        tag("tr", tag("td", text(says)), tag("td", text(told) if own else quiet(f"{told} (the general text)")))
        for says, told, own in rows
    )
    return tag("table", tag("thead", head), tag("tbody", *body), cls="pr-entries pr-plain")


TABLES: Mapping[str, Callable[[Plan], Markup]] = {
    "Election": election,
    "Steps": steps,
    "Limits": limits,
    "Targets": targets,
    "Ladder": ladder,
    "People told": people,
    "Words": own_words,
    "Instructions": instructions,
    "Rovers": plan_more_tables.rovers,
    "Patterns": plan_more_tables.patterns,
    "Brought back": plan_more_tables.items,
    "Forecast": plan_more_tables.forecast,
}
