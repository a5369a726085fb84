"""The list of what places bring back is read from the plan, or refused by key and line; without it nothing is lost."""

import pytest

from county.domain.items import Item
from county.domain.plan_file import parse_plan
from county.errors import BadPlan
from tests.domain.test_plan_file import SMALL

WHOLE = """
[[item]]
key = "memory"
says = "Memory device"
per = "device"
types = ["scanner"]
[[item]]
key = "provisional"
says = "Provisional envelopes"
needed = false
sealed = true
"""


def test_a_plan_without_items_has_none() -> None:
    assert parse_plan(SMALL, "plan.toml").items == ()


def test_every_key_is_read() -> None:
    assert parse_plan(SMALL + WHOLE, "plan.toml").items == (
        Item("memory", "Memory device", ("scanner",)),
        Item("provisional", "Provisional envelopes", needed=False, sealed=True),
    )


@pytest.mark.parametrize(
    ("added", "reason"),
    [
        ('[[item]]\nkey = "Keys"\nsays = "Keys"', "is not small letters"),
        ('[[item]]\nkey = "keys"', '"says" is missing'),
        ('[[item]]\nkey = "keys"\nsays = "Keys"\nper = "device"', "needs types"),
        ('[[item]]\nkey = "keys"\nsays = "Keys"\ntypes = ["bmd"]', "types are only for"),
        ('[[item]]\nkey = "keys"\nsays = "Keys"\nneeded = 1', "is not true or false"),
        ('[[item]]\nkey = "keys"\nsays = "Keys"\nkind = "x"', 'unknown name "kind"'),
        (f'{WHOLE}[[item]]\nkey = "memory"\nsays = "Once more"', "the same key stands on another item above"),
    ],
)
def test_each_fault_is_refused_by_its_line(added: str, reason: str) -> None:
    with pytest.raises(BadPlan, match=reason):
        parse_plan(f"{SMALL}\n{added}\n", "plan.toml")
