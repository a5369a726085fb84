"""A plan with items for the tests of custody: a step of leaving, a list, and a limit for the way."""

from dataclasses import replace
from datetime import timedelta
from typing import Any

from county.domain.items import Item
from county.domain.plan import Anchor, Plan, Step
from tests.builders import STEPS, a_plan

ITEMS = (
    Item("memory", "Memory device", ("scanner",)),
    Item("used-ballots", "Used ballots", sealed=True),
    Item("provisional", "Provisional envelopes", needed=False),
    Item("keys", "Keys"),
)
EVERYTHING = ("memory:SC-0141", "memory:SC-0142", "used-ballots", "provisional", "keys")
"""Every item of P014 by its name."""
_DEPARTED = Step("departed", "Left with two people", Anchor.CLOSING, timedelta(minutes=90), timedelta(minutes=5))


def a_plan_with_items(**limits: object) -> Plan:
    """The usual plan with a step of leaving before receiving, these items, and an hour for the way."""
    usual: dict[str, Any] = {"on_the_way": timedelta(hours=1), **limits}
    plan = a_plan((*STEPS[:-1], _DEPARTED, STEPS[-1]), **usual)
    return replace(plan, items=ITEMS)


def all_but(*missing: str) -> tuple[str, ...]:
    """Every item of P014 but these; a key alone leaves out that of every device."""
    return tuple(name for name in EVERYTHING if name not in missing and name.partition(":")[0] not in missing)
