"""A forecast of one place's opening: when, between when and when, and how likely late."""

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class OpeningForecast:
    """One place that has been heard from and is not open: when it is likely to open. Times are aware UTC.

    `chance_late` (0 to 1) is that of opening later than its own time and the plan's grace for late openings.
    `earliest`, `middle` and `latest` are the 10th, 50th and 90th percentile of its opening, to the minute. `step` is
    the first step before the opening that is not done; empty where all are.
    """

    place: str
    opens_at: datetime
    chance_late: float
    earliest: datetime
    middle: datetime
    latest: datetime
    step: str

    @property
    def per_cent(self) -> int:
        """The chance in whole per cent, from 1 to 99: nothing here is certain."""
        return min(99, max(1, round(self.chance_late * 100)))
