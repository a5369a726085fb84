"""A plan as tables that people can read: steps, limits, targets, the ladder, the people, words, instructions."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import fields
from datetime import timedelta

from county.domain.effects import Effect
from county.domain.plan import WORDS, Anchor, Plan, Rung, Step, Target
from dashboard import words
from dashboard.markup import Markup, quiet, tag, text

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
    return _table(("Step", "Due", "Overdue after", "Done on"), rows)


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
    return _table(("Limit", "Is"), ((name, _value(value)) for name, value in named))


def targets(plan: Plan) -> Markup:
    """Minutes the county gives itself, by effect."""
    rows = []
    for effect in Effect:
        target = plan.targets.get(effect, Target())
        minutes = (getattr(target, field.name) for field in fields(Target))
        rows.append((words.EFFECT[effect], *("none" if each is None else f"{each} min" for each in minutes)))
    return _table(("Effect", "Acknowledged in", "On site in", "Cleared in"), rows)


def ladder(plan: Plan) -> Markup:
    """Who is told of which effect, when, and unless what."""
    return _table(("Effect", "Told", "When"), (_rung(rung) for rung in plan.ladder))


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
    return _table(("Person", "Roles", "Reached by", "Shift"), rows)


def own_words(plan: Plan) -> Markup:
    """What this county calls things."""
    return _table(("Word", "Here"), ((key, plan.word(key)) for key in WORDS))


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
}


def length(length_: timedelta) -> str:
    """A length of time: 45 min, 1 h 30 min, 20 s."""
    seconds = int(length_.total_seconds())
    hours, minutes, rest = seconds // 3600, seconds // 60 % 60, seconds % 60
    said = ((hours, "h"), (minutes, "min"), (rest, "s"))
    return " ".join(f"{number} {unit}" for number, unit in said if number) or "0 min"


def _value(value: object) -> str:
    if isinstance(value, timedelta):
        return length(value)
    return {True: "yes", False: "no"}[value] if isinstance(value, bool) else f"{value:,}"


def _table(names: Iterable[str], rows: Iterable[Iterable[str]]) -> Markup:
    head = tag("tr", *(tag("th", text(name), scope="col") for name in names))
    body = (tag("tr", *(tag("td", text(cell)) for cell in row)) for row in rows)
    return tag("table", tag("thead", head), tag("tbody", *body), cls="pr-entries pr-plain")
