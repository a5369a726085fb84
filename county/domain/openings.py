"""When each place will open, and how likely late: said before it is late, from the steps it has done so far."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np
from scipy.special import ndtri

from county.domain.place_state import PlaceState
from county.domain.plan import Plan
from county.domain.step_paces import StepPaces

DRAWS = 512
_BAND = (0.1, 0.5, 0.9)


@dataclass(frozen=True, slots=True)
class OpeningForecast:
    """One place that has been heard from and is not open: when it is likely to open. Times are aware UTC.

    `chance_late` (0 to 1) is that of opening later than its own time and the plan's grace for late openings.
    `earliest`, `middle` and `latest` are the 10th, 50th and 90th percentile of its opening: in 8 of 10 such mornings it
    opens between the outer two. `step` is the first step before the opening that is not done; empty where all are.
    """

    place: str
    opens_at: datetime
    chance_late: float
    earliest: datetime
    middle: datetime
    latest: datetime
    step: str


def forecast_openings(
    states: Iterable[PlaceState], paces: StepPaces, plan: Plan, now: datetime
) -> dict[str, OpeningForecast]:
    """The forecast of each place of which one can be made at `now` (aware UTC), by place id.

    A place that has not been heard from, has opened or has closed has none: unknown is never shown as good. The same
    states and minute give the same forecasts on any machine.
    """
    now = now.replace(second=0, microsecond=0)
    found = {}
    for state in states:
        day, expected = state.day, state.expected
        if not day.heard or day.opened_at or day.closed_at or day.received_at or now >= expected.closes_at:
            continue
        missing = [s.key for s in expected.steps if s.step.before_opening and s.key not in day.done]
        left = sum(paces.steps[key].minutes for key in missing if key in paces.steps)
        sigma = max((paces.steps[key].sigma for key in missing if key in paces.steps), default=0.3)
        ready = (max(left, 1.0)) * np.exp(sigma * ndtri((np.arange(DRAWS) + 0.5) / DRAWS))
        own = (expected.opens_at - now).total_seconds() / 60
        opens = np.maximum(own, ready)
        late = opens > own + plan.limits.late_grace.total_seconds() / 60
        low, middle, high = (now + timedelta(minutes=float(m)) for m in np.quantile(opens, _BAND))
        place = expected.place.place
        found[place] = OpeningForecast(
            place, expected.opens_at, float(late.mean()), low, middle, high, next(iter(missing), "")
        )
    return found
