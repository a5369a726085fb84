"""The forecast of every place's opening, made once for everybody in a process who asks in the same minute."""

import threading
from collections import deque
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from operator import is_
from types import MappingProxyType

from county.domain.opening_forecast import OpeningForecast
from county.domain.picture import Picture
from county.domain.place_state import PlaceState
from county.domain.plan import Plan
from county.domain.step_paces import StepPaces, paces_of
from county.earlier_file import earlier_steps_at_hand
from county.wiring import Office

Forecasts = Mapping[str, OpeningForecast]
NONE: Forecasts = MappingProxyType({})
_KEPT = 4


@dataclass(frozen=True, slots=True)
class _Asked:
    """What a forecast rests on: the same places, paces and plan in the same minute are the same question."""

    paces: StepPaces
    plan: Plan
    minute: int
    states: tuple[PlaceState, ...]

    def is_the_same(self, other: "_Asked") -> bool:
        return (
            self.minute == other.minute
            and self.plan is other.plan
            and self.paces is other.paces
            and len(self.states) == len(other.states)
            and all(map(is_, self.states, other.states))
        )


_lock = threading.Lock()
_answered: deque[tuple[_Asked, Forecasts]] = deque(maxlen=_KEPT)
_learned: deque[tuple[object, Plan, StepPaces]] = deque(maxlen=_KEPT)


def forecasts(office: Office, picture: Picture, now: datetime) -> Forecasts:
    """The forecasts as of the minute of `now` (aware UTC), by place id. Any thread may ask.

    Costs about 50 ms of processor for 2,000 places where one has changed or the minute has, and nothing otherwise.
    """
    # a long while to import, and the commands, which forecast nothing, come through here
    from county.domain.openings import forecast_openings

    asked = _Asked(
        paces(office, picture.plan), picture.plan, int(now.timestamp() // 60), tuple(picture.places.values())
    )
    with _lock:
        for before, answer in _answered:
            if before.is_the_same(asked):
                return answer
        answer = MappingProxyType(forecast_openings(asked.states, asked.paces, asked.plan, now))
        _answered.append((asked, answer))
        return answer


def forecasts_near_opening(office: Office, picture: Picture, now: datetime) -> Forecasts:
    """The same, but none while no place is so near to its opening that a case may come of it."""
    ahead = picture.plan.forecast.ahead
    near = any(
        state.expected.opens_at - ahead <= now < state.expected.opens_at and not state.day.opened_at
        for state in picture.places.values()
    )
    return forecasts(office, picture, now) if near else NONE


def paces(office: Office, plan: Plan) -> StepPaces:
    """How long steps take by this plan and the earlier election that is at hand, learned once."""
    earlier = earlier_steps_at_hand(office.settings)
    for steps, of, held in tuple(_learned):
        if steps is earlier and of is plan:
            return held
    learned = paces_of(earlier, plan)
    _learned.append((earlier, plan, learned))
    return learned
