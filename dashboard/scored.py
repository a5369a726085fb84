"""How good the forecasts were, reckoned once for everybody, and again where an opening or the minute bears on it."""

import time
from dataclasses import dataclass
from datetime import datetime

from county.domain.picture import Picture
from county.domain.plan import Plan
from county.domain.record.forecast_scores import LEADS, ForecastScore, forecast_scores
from county.domain.roster import Roster
from county.forecasting import paces
from county.wiring import Office
from dashboard.board_now import minute_of
from dashboard.replaying import Replaying

REST = 20.0
"""How many times longer than reckoning it rests: while places open by the second the scores may be older."""
Scores = tuple[ForecastScore, ...]


@dataclass(frozen=True)
class _Asked:
    """What scores rest on: what was known before the openings, which never changes, and when places opened."""

    roster: Roster
    plan: Plan
    until: int
    opened: tuple[datetime | None, ...]

    def is_the_same(self, other: "_Asked") -> bool:
        """Whether it is the same question; rosters and plans are compared as objects, because they are large."""
        known = self.roster is other.roster and self.plan is other.plan
        return known and self.until == other.until and self.opened == other.opened


class Scored:
    """Keeps the newest scores of one process. Any thread may ask; two at once may both reckon."""

    def __init__(self, office: Office, replaying: Replaying) -> None:
        self._office = office
        self._replaying = replaying
        self._kept: tuple[_Asked, Scores] | None = None
        self._rests_until = float("-inf")

    def scores(self, picture: Picture, now: datetime) -> Scores:
        """One score for each time before the opening, as of `now` (aware UTC)."""
        asked = _asked(picture, now)
        kept = self._kept
        if kept and (kept[0].is_the_same(asked) or time.monotonic() < self._rests_until):
            return kept[1]
        began = time.monotonic()
        scores = forecast_scores(self._replaying.replay(), paces(self._office, picture.plan), now, LEADS)
        self._kept, self._rests_until = (asked, scores), time.monotonic() + REST * (time.monotonic() - began)
        return scores


def _asked(picture: Picture, now: datetime) -> _Asked:
    states = picture.places.values()
    last = max((state.expected.opens_at for state in states), default=now)
    opened = tuple(state.day.opened_at for state in states)
    return _Asked(picture.roster, picture.plan, minute_of(min(now, last)), opened)
