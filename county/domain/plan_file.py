"""The county's plan.toml becomes a Plan, or is refused with file, line and reason."""

import re
import tomllib
from dataclasses import fields
from datetime import date, datetime, time, timedelta
from types import MappingProxyType

from county.domain.effects import Effect
from county.domain.exception_kinds import EXCEPTION_KINDS, ExceptionKind
from county.domain.moments import is_zone, parse_duration
from county.domain.plan import UNLESS, WORDS, Anchor, Election, Limits, Plan, Reach, Rung, Step, Target
from county.domain.plan_device_logs import read_log_maps
from county.domain.plan_dispatch import read_dispatch
from county.domain.plan_forecast import read_forecast
from county.domain.plan_items import read_items
from county.domain.plan_lines import PlanLines
from county.domain.plan_patterns import read_patterns
from county.domain.plan_people import read_people
from county.domain.plan_table import PlanTable, shown
from county.errors import BadPlan

_DUE = re.compile(r"\s*(close(?=\s*[+-]))?\s*(0m|[+-].*)", re.ASCII)
_KEY = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*", re.ASCII)
_AT = re.compile(r" \(at (?:line (\d+), column \d+|end of document)\)$")
_SECTIONS = (
    "election", "reach", "step", "limits", "effects", "ladder", "person", "words", "instructions", "exception",
    "device_log", "device_logs", "dispatch", "patterns", "forecast", "item",
)  # fmt: skip
_NEEDED_STEPS = ("open", "closed")


def parse_plan(text: str, name: str) -> Plan:
    """Read a plan file's text; `name` is the file's name for messages. Raises BadPlan at the first fault."""
    text = text.removeprefix("\ufeff")
    top = PlanTable(name, PlanLines(text), (), "", _toml(text, name))
    top.only(*_SECTIONS)
    kinds = _exception_kinds(top)
    return Plan(
        election=_election(top),
        steps=_steps(top),
        limits=_limits(top.table("limits")),
        reach=Reach(**_texts(top.table("reach"), tuple(field.name for field in fields(Reach)))),
        targets=MappingProxyType(_targets(top.table("effects"))),
        ladder=tuple(_rung(item) for item in top.items("ladder")),
        people=read_people(top),
        words=MappingProxyType(_texts(top.table("words"), tuple(WORDS))),
        instructions=MappingProxyType(_texts(top.table("instructions"), tuple(kinds))),
        exception_kinds=MappingProxyType(kinds),
        logs=read_log_maps(top),
        dispatch=read_dispatch(top, kinds),
        patterns=read_patterns(top),
        forecast=read_forecast(top),
        items=read_items(top),
    )


def _toml(text: str, name: str) -> dict[str, object]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        at = _AT.search(str(error))
        line = int(at[1]) if at and at[1] else text.count("\n") + 1
        raise BadPlan(name, line, f"cannot be read: {_AT.sub('', str(error))}") from None
    except RecursionError:
        raise BadPlan(name, 1, "cannot be read: brackets within brackets without end") from None


def _election(top: PlanTable) -> Election:
    if not top.has("election"):
        top.refuse("", "the table [election] is missing")
    table = top.table("election")
    table.only(*(field.name for field in fields(Election)))
    day = table.get("date")
    if not isinstance(day, date) or isinstance(day, datetime):
        table.refuse("date", f"date {shown(day)} is not a date like 2026-11-03, without quotation marks")
    zone = table.text("zone")
    if not is_zone(zone):
        table.refuse("zone", f'zone "{zone}" is not a time zone like America/Chicago')
    opens, closes = table.clock("opens"), table.clock("closes")
    if closes <= opens and closes != time(0):
        table.refuse("closes", f"closes {closes:%H:%M} is not after opens {opens:%H:%M}")
    rehearsal = table.yes_no("rehearsal") if table.has("rehearsal") else False
    return Election(table.text("name"), table.text("county"), day, zone, opens, closes, rehearsal)


def _steps(top: PlanTable) -> tuple[Step, ...]:
    steps: dict[str, Step] = {}
    for table in top.items("step"):
        step = _step(table)
        if step.key in steps:
            table.refuse("key", "the same key stands on another step above")
        steps[step.key] = step
    for key in _NEEDED_STEPS:
        if key not in steps:
            top.refuse("step", f'there is no step "{key}", without which nobody can be seen to have done it')
    return tuple(steps.values())


def _step(table: PlanTable) -> Step:
    table.only("key", "says", "due", "grace", "per", "types")
    per_device = table.has("per") and table.one_of("per", ("place", "device")) == "device"
    if per_device and not table.has("types"):
        table.refuse("per", 'per "device" needs types, a list like ["scanner"]')
    if not per_device and table.has("types"):
        table.refuse("types", 'types are only for a step that says per = "device"')
    anchor, due = _due(table)
    return Step(
        key=_key(table),
        says=table.text("says"),
        anchor=anchor,
        due=due,
        grace=table.length("grace") if table.has("grace") else timedelta(0),
        per_device=per_device,
        types=table.texts("types") if per_device else (),
    )


def _due(table: PlanTable) -> tuple[Anchor, timedelta]:
    value = table.get("due")
    found = _DUE.fullmatch(value) if isinstance(value, str) else None
    try:
        length = parse_duration(found[2]) if found else None
    except ValueError:
        length = None
    if not found or length is None:
        table.refuse("due", f"due {shown(value)} is not a duration like -15m, +5m or close+30m")
    return (Anchor.CLOSING if found[1] else Anchor.OPENING), length


def _key(table: PlanTable) -> str:
    key = table.text("key")
    if not _KEY.fullmatch(key) or len(key) > 64:
        table.refuse("key", f"key {shown(key)} is not small letters, digits and hyphens like zero-report")
    return key


def _limits(table: PlanTable) -> Limits:
    readers = {timedelta: table.length, bool: table.yes_no, int: table.whole}
    defaults = {field.name: type(field.default) for field in fields(Limits)}
    table.only(*defaults)
    return Limits(**{name: readers[defaults[name]](name) for name in table.values})  # type: ignore[arg-type]


def _targets(table: PlanTable) -> dict[Effect, Target]:
    table.only(*Effect)
    return {effect: _target(table.table(effect)) for effect in Effect if table.has(effect)}


def _target(table: PlanTable) -> Target:
    names = tuple(field.name for field in fields(Target))
    table.only(*names)
    target = {name: table.whole(name) for name in names if table.has(name)}
    for (earlier, less), (later, more) in zip(target.items(), list(target.items())[1:], strict=False):
        if more < less:
            table.refuse(later, f"{later} {more} is under {earlier} {less}; all are minutes from raised")
    return Target(**target)


def _rung(table: PlanTable) -> Rung:
    table.only("effect", "after", "unless", "tell")
    return Rung(
        effect=Effect(table.one_of("effect", tuple(Effect))),
        after=table.length("after"),
        unless=table.one_of("unless", UNLESS),
        tell=table.texts("tell"),
    )


def _texts(table: PlanTable, known: tuple[str, ...]) -> dict[str, str]:
    table.only(*known)
    return {key: table.text(key) for key in table.values}


def _exception_kinds(top: PlanTable) -> dict[str, ExceptionKind]:
    """The board's own kinds and the county's; a county may add to the table but not change what the rules rest on."""
    kinds = dict(EXCEPTION_KINDS)
    for table in top.items("exception"):
        table.only("key", "says", "effect", "needs_person")
        key = _key(table)
        if key in kinds:
            table.refuse("key", "there is already a kind of exception with this key")
        effect = Effect(table.one_of("effect", tuple(Effect)))
        needs_person = table.has("needs_person") and table.yes_no("needs_person")
        kinds[key] = ExceptionKind(key, table.text("says"), effect, needs_person)
    return kinds
