"""What kind of day it is. The shares are judgements around published good and bad days, not a forecast."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Regime:
    """One kind of day, as shares of the places.

    `late`: open late for a reason of their own. `on_delayed_routes`: get their material from a delivery route that
    runs late, and of those `late_on_route` open late. `calls`: calls for each place from staffing to three hours after
    opening. `never_heard`: never report. `goes_quiet`: stop reporting. `offline`: lose the signal for a while.
    `short_of_ballots`: more voters come than ballots were delivered. `custody`: come back with an item missing, and as
    many with a seal that is not the one put on.
    """

    late: float
    on_delayed_routes: float
    late_on_route: float
    calls: float
    never_heard: float
    goes_quiet: float
    offline: float
    short_of_ballots: float
    custody: float = 0.0


REGIMES: Mapping[str, Regime] = MappingProxyType(
    {
        "normal": Regime(0.01, 0.0, 0.0, 0.8, 0.004, 0.01, 0.03, 0.0),
        "rough": Regime(0.10, 0.0, 0.0, 1.0, 0.02, 0.03, 0.08, 0.04, custody=0.03),
        "common-cause": Regime(0.02, 1 / 3, 0.94, 1.0, 0.01, 0.02, 0.05, 0.01),
    }
)
