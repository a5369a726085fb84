"""When the same trouble at several places counts as one pattern, as the plan's [patterns] table says."""

from typing import Any

from county.domain.pattern_limits import PatternLimits
from county.domain.plan_table import PlanTable


def read_patterns(top: PlanTable) -> PatternLimits:
    """The limits, usual values where the plan is silent. Raises BadPlan at the first fault."""
    table = top.table("patterns")
    table.only("places", "within", "along", "chance")
    told: dict[str, Any] = {name: table.length(name) for name in ("within", "along") if table.has(name)}
    if table.has("places"):
        told["places"] = table.whole("places")
        if told["places"] < 2:
            table.refuse("places", f"places {told['places']}: one place alone is no pattern")
    if table.has("chance"):
        told["chance"] = table.number("chance", 0, 1)
    limits = PatternLimits(**told)
    if limits.along < limits.within:
        table.refuse("along" if table.has("along") else "within", "along is shorter than within")
    return limits
