"""When the same trouble at several places counts as one pattern: the county's own limits."""

from dataclasses import dataclass
from datetime import timedelta


@dataclass(frozen=True, slots=True)
class PatternLimits:
    """How many places within how long make a pattern: anywhere in the county, or along one zone, route or model.

    Along one of these fewer coincidences are expected, so more time is allowed too. What chance alone would bring more
    often than `chance` is not linked.
    """

    places: int = 3
    within: timedelta = timedelta(minutes=30)
    along: timedelta = timedelta(minutes=120)
    chance: float = 0.1

    def windows(self, *, countywide: bool) -> tuple[timedelta, ...]:
        """How long apart places may be, in the county as a whole or along one zone, route or model."""
        return (self.within,) if countywide else (self.within, self.along)
