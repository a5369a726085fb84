"""What places take to the office, as the plan's [[item]] tables say."""

import re

from county.domain.items import Item
from county.domain.plan_table import PlanTable, shown

_KEY = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*", re.ASCII)


def read_items(top: PlanTable) -> tuple[Item, ...]:
    """The items in the plan's order; none where the plan lists none. Raises BadPlan at the first fault."""
    items: dict[str, Item] = {}
    for table in top.items("item"):
        item = _item(table)
        if item.key in items:
            table.refuse("key", "the same key stands on another item above")
        items[item.key] = item
    return tuple(items.values())


def _item(table: PlanTable) -> Item:
    table.only("key", "says", "per", "types", "needed", "sealed")
    key = table.text("key")
    if not _KEY.fullmatch(key) or len(key) > 64:
        table.refuse("key", f"key {shown(key)} is not small letters, digits and hyphens like used-ballots")
    per_device = table.has("per") and table.one_of("per", ("place", "device")) == "device"
    if per_device and not table.has("types"):
        table.refuse("per", 'per "device" needs types, a list like ["scanner"]')
    if not per_device and table.has("types"):
        table.refuse("types", 'types are only for an item that says per = "device"')
    return Item(
        key=key,
        says=table.text("says"),
        types=table.texts("types") if per_device else (),
        needed=table.yes_no("needed") if table.has("needed") else True,
        sealed=table.yes_no("sealed") if table.has("sealed") else False,
    )
