"""The county's maps from a model's event ids to what they tell, as the plan's [[device_log]] tables give them."""

from types import MappingProxyType

from county.domain.log_milestones import LogMaps, Milestone
from county.domain.plan_table import PlanTable


def read_log_maps(top: PlanTable) -> LogMaps:
    """Every model's map, and the tolerance of [device_logs]. Raises BadPlan at the first fault."""
    by_model: dict[str, MappingProxyType[str, Milestone]] = {}
    for table in top.items("device_log"):
        table.only("model", "ids")
        model = table.text("model")
        if model in by_model:
            table.refuse("model", f'the model "{model}" stands on another table above')
        ids = table.table("ids")
        by_model[model] = MappingProxyType({each: Milestone(ids.one_of(each, tuple(Milestone))) for each in ids.values})
    general = top.table("device_logs")
    general.only("tolerance")
    if general.has("tolerance"):
        return LogMaps(MappingProxyType(by_model), general.length("tolerance"))
    return LogMaps(MappingProxyType(by_model))
