"""When a forecast of a late opening is worth a case: the county's own limits."""

from dataclasses import dataclass
from datetime import timedelta


@dataclass(frozen=True, slots=True)
class ForecastLimits:
    """From which chance of a late opening on, and at most how long before a place's own opening, a case is raised.

    What counts as late is the limit `late_grace`, as for the opening itself.
    """

    chance: float = 0.6
    ahead: timedelta = timedelta(minutes=60)
