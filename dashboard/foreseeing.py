"""When each place will likely open, reckoned beside the drawing: pages show the newest there is and wait for none."""

import logging
import threading
import time
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from operator import is_
from types import MappingProxyType

from county.domain.earlier_steps import EarlierStep
from county.domain.openings import OpeningForecast, forecast_openings
from county.domain.picture import Picture
from county.domain.place_state import PlaceState
from county.domain.plan import Plan
from county.domain.step_paces import StepPaces, paces_of
from county.following import Following
from dashboard.board_now import minute_of

EVERY_SECONDS, REST = 0.5, 4.0
"""How often it looks at most, and how many times longer than reckoning it rests, so that drawing has its turn."""
Forecasts = Mapping[str, OpeningForecast]
NONE: Forecasts = MappingProxyType({})
_log = logging.getLogger("pollrise.board")


class Foreseeing:
    """Keeps the newest forecasts of one process; none before the first, and while none can be reckoned.

    Every place is reckoned anew where one has changed, because each place's pace bears on the others'. `latest` stays
    the same object while no forecast has changed.
    """

    def __init__(self, following: Following, now: Callable[[], datetime], earlier: Sequence[EarlierStep]) -> None:
        self.latest: Forecasts = NONE
        self._following = following
        self._now = now
        self._earlier = earlier
        self._learned: tuple[Plan, StepPaces] | None = None
        self._seen: tuple[Plan, int, list[PlaceState]] | None = None
        self._stopping = threading.Event()

    def look(self) -> None:
        """Reckon anew where a place or the minute has changed."""
        picture, now = self._following.picture, self._now()
        plan, minute, states = picture.plan, minute_of(now), list(picture.places.values())
        if self._seen and self._seen[0] is plan and self._seen[1] == minute and _the_same(self._seen[2], states):
            return
        latest = forecast_openings(states, self.paces(plan), plan, now)
        self._seen = plan, minute, states
        if latest != self.latest:
            self.latest = MappingProxyType(latest)

    def paces(self, plan: Plan) -> StepPaces:
        """How long steps take by this plan and the earlier election, learned once for each plan."""
        learned = self._learned
        if learned is None or learned[0] is not plan:
            learned = self._learned = plan, paces_of(self._earlier, plan)
        return learned[1]

    def as_known(self, picture: Picture, at: datetime) -> Forecasts:
        """What was to be said at a past moment, reckoned from the picture of what was known then."""
        found = forecast_openings(picture.places.values(), self.paces(picture.plan), picture.plan, at)
        return MappingProxyType(found)

    def follow(self) -> None:
        """Look until stopped; trouble is logged and tried again, and nothing is forecast meanwhile."""
        took = 0.0
        while not self._stopping.wait(max(EVERY_SECONDS, REST * took)):
            began = time.monotonic()
            try:
                self.look()
            except Exception:  # noqa: BLE001  the loop's outermost level
                self.latest, self._seen = NONE, None
                _log.exception("no opening can be forecast")
            took = time.monotonic() - began

    def stop(self) -> None:
        self._stopping.set()


def _the_same(before: Sequence[PlaceState], states: Sequence[PlaceState]) -> bool:
    return len(before) == len(states) and all(map(is_, before, states))
