"""When a forecast of a late opening is worth a case, as the plan's [forecast] table says."""

from typing import Any

from county.domain.forecast_limits import ForecastLimits
from county.domain.plan_table import PlanTable


def read_forecast(top: PlanTable) -> ForecastLimits:
    """The limits, usual values where the plan is silent. Raises BadPlan at the first fault."""
    table = top.table("forecast")
    table.only("chance", "ahead")
    told: dict[str, Any] = {}
    if table.has("chance"):
        # below one in ten every place of a usual morning would be a case
        told["chance"] = table.number("chance", 0.1, 1)
    if table.has("ahead"):
        told["ahead"] = table.length("ahead")
    return ForecastLimits(**told)
