"""How the county sends its rovers, as the plan's [dispatch] tables say."""

import re
from collections.abc import Mapping
from dataclasses import fields, replace
from itertools import pairwise
from types import MappingProxyType
from typing import Any

from county.domain.dispatch_settings import WEIGHTS, DispatchSettings, Need
from county.domain.effects import Effect
from county.domain.plan_table import PlanTable, shown

_RANGES: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        "turn_minutes": (0, 600),
        "least_minutes": (0, 600),
        "road_factor": (1, 5),
        "km_per_hour": (1, 200),
        "start_minutes": (0, 240),
        "unknown_minutes": (0, 600),
    }
)
"""From how little to how much each number may be."""
MOST_STEPS = 2_000_000
_FILE = re.compile(r"[\w-][\w. -]{0,80}\.csv", re.ASCII | re.IGNORECASE)
_OWN_TABLES = ("weights", "needs", "usual")


def read_dispatch(top: PlanTable, kinds: Mapping[str, object]) -> DispatchSettings:
    """The settings, usual values where the plan is silent. `kinds` are all there are. Raises BadPlan at a fault."""
    table = top.table("dispatch")
    table.only(*_RANGES, "keep_zones", "into_danger", "steps", "seed", "matrix", *_OWN_TABLES)
    told: dict[str, Any] = {name: table.number(name, *limits) for name, limits in _RANGES.items() if table.has(name)}
    told |= {name: table.yes_no(name) for name in ("keep_zones", "into_danger") if table.has(name)}
    told |= {name: table.whole(name) for name in ("steps", "seed") if table.has(name)}
    if told.get("steps", 0) > MOST_STEPS:
        table.refuse(
            "steps", f"steps {told['steps']:,} is more than {MOST_STEPS:,}, which would take seconds each time"
        )
    if table.has("matrix"):
        told["matrix_file"] = _matrix(table)
    if table.has("weights"):
        told["weights"] = _weights(table.table("weights"))
    settings = DispatchSettings(**told)
    if table.has("usual"):
        settings = replace(settings, usual=_need(table.table("usual"), settings.usual))
    return replace(settings, needs=_needs(table.table("needs"), kinds, settings))


def _matrix(table: PlanTable) -> str:
    name = table.text("matrix")
    if not _FILE.fullmatch(name):
        table.refuse("matrix", f"matrix {shown(name)} is not the name of a CSV file beside the plan, like ways.csv")
    return name


def _weights(table: PlanTable) -> Mapping[Effect, float]:
    """A worse effect never counts for less, or the board would send rovers past it."""
    table.only(*Effect)
    weights = {
        effect: table.number(effect, 0.001, 1_000_000) if table.has(effect) else WEIGHTS[effect] for effect in Effect
    }
    for worse, better in pairwise(Effect):
        if weights[worse] < weights[better]:
            at = worse if table.has(worse) else better
            table.refuse(at, f"{worse} counts {weights[worse]:g}, less than {better} with {weights[better]:g}")
    return MappingProxyType(weights)


def _needs(table: PlanTable, kinds: Mapping[str, object], settings: DispatchSettings) -> Mapping[str, Need]:
    """What each kind of trouble needs; what the plan does not say of a kind stays as it is usual."""
    table.only(*kinds)
    return MappingProxyType({kind: _need(table.table(kind), settings.need(kind)) for kind in table.values})


def _need(table: PlanTable, usual: Need) -> Need:
    table.only(*(field.name for field in fields(Need)))
    told: dict[str, Any] = {name: table.yes_no(name) for name in ("used_up", "rover") if table.has(name)}
    if table.has("minutes"):
        told["minutes"] = table.number("minutes", 0, 600)
    for name in ("skill", "spare"):
        if table.has(name):
            # an empty text takes away what is usual
            told[name] = "" if table.get(name) == "" else table.text(name)
    if told and "rover" not in told:
        # whoever says what is needed there wants somebody to go
        told["rover"] = True
    need = replace(usual, **told)
    if need.used_up and not need.spare:
        table.refuse("used_up", "used_up without a spare: nothing is used up")
    return need
