"""Which event ids of which model mean what: the county's own map, because the standard fixes no ids."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import timedelta
from enum import StrEnum
from types import MappingProxyType


class Milestone(StrEnum):
    """What an event of a device's log can tell of the day; `nothing` is known and tells nothing."""

    OPENED = "opened"
    CLOSED = "closed"
    ZERO_REPORT = "zero-report"
    RESULTS_PRINTED = "results-printed"
    POWERED = "powered"
    POWER_LOST = "power-lost"
    POWER_RESTORED = "power-restored"
    BATTERY_LOW = "battery-low"
    NOTHING = "nothing"


@dataclass(frozen=True)
class LogMaps:
    """The maps of the county by model, as the log writes it, and how far two clocks may be apart.

    Two minutes is the trade's usual tolerance (practice, no published source).
    """

    by_model: Mapping[str, Mapping[str, Milestone]] = field(default_factory=lambda: MappingProxyType({}))
    tolerance: timedelta = timedelta(minutes=2)

    def of(self, model: str) -> Mapping[str, Milestone]:
        """The map of a model; empty where the county has none, and then nothing is guessed."""
        return self.by_model.get(model, MappingProxyType({}))
