"""When each place will open, and how likely late: said before it is late, from the steps it has done so far."""

from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta

import numpy as np

from county.domain.opening_chances import Bools, Floats, longer, percentiles, shared, survival
from county.domain.opening_forecast import OpeningForecast
from county.domain.opening_hand import Hand, in_hand
from county.domain.opening_progress import Progress, progress_of
from county.domain.place_state import PlaceState
from county.domain.plan import Plan
from county.domain.step_paces import StepPace, StepPaces

__all__ = ["OpeningForecast", "forecast_openings"]

BAND = (0.1, 0.5, 0.9)
"""The percentiles of a forecast: in 8 of 10 such mornings the place opens between the outer two."""
_CHUNK = 256
"""Places reckoned at a time, so that the draws stay in the processor's cache."""
_SLOWEST = 0.02
"""A step that is done untold is one of the slowest so many of its kind, if it has not been told for so long."""
_FASTEST = 0.5
"""Nobody hurries to less than this share of the usual time: a judgement."""


def forecast_openings(
    states: Iterable[PlaceState], paces: StepPaces, plan: Plan, now: datetime
) -> dict[str, OpeningForecast]:
    """The forecast of each place of which one can be made at `now` (aware UTC), by place id.

    A place that has not been heard from, has opened or has closed has none: unknown is never shown as good. The same
    states and minute give the same forecasts on any machine, in whatever order the states come.

    Steps are lognormal, one after another. The one in hand is longer than the time already spent on it; it may be
    held up, or done untold. The place's own pace, the county's, and at which step it is held up are learned from what
    was done so far today. Reports of the last minutes may still be on their way.
    """
    now = now.replace(second=0, microsecond=0)
    told = [each for state in states if (each := progress_of(state, paces.steps, now))]
    told.sort(key=lambda each: each.place)
    if not told:
        return {}
    every = in_hand(told, paces, now)
    found: dict[str, OpeningForecast] = {}
    for first in range(0, len(told), _CHUNK):
        hand = every.part(slice(first, first + _CHUNK))
        found |= _forecasts(hand.told, _openings(hand, paces, now), plan, now)
    return found


def _forecasts(told: Sequence[Progress], opens: Floats, plan: Plan, now: datetime) -> dict[str, OpeningForecast]:
    """What minutes from now, a row a place, amount to."""
    grace = plan.limits.late_grace
    limit = np.array([_minutes(each.opens_at + grace, now) for each in told])
    late = np.where(limit > 0, (opens > limit[:, None] + 1e-9).mean(axis=1), 1.0)
    band = percentiles(opens, BAND)
    found = {}
    for each, chance, row in zip(told, late, band, strict=True):
        low, middle, high = (max(each.opens_at, now + timedelta(minutes=round(float(m)))) for m in row)
        found[each.place] = OpeningForecast(each.place, each.opens_at, float(chance), low, middle, high, each.step)
    return found


def _minutes(moment: datetime, since: datetime) -> float:
    return (moment - since).total_seconds() / 60


def _openings(hand: Hand, paces: StepPaces, now: datetime) -> Floats:
    """Minutes from `now` to the opening: a row a place, a column a draw."""
    own = np.array([[_minutes(each.opens_at, now)] for each in hand.told])
    draws = shared(len(paces.steps))
    held, rest, away = _rest(hand, paces)
    # what the step in hand took says something of the pace of those to come, unless it was held up
    known = np.where(held, 0.0, hand.variance / hand.sigma)
    pace = hand.pace + known * away + np.sqrt(hand.variance - known**2) * draws.pace
    after, stuck = _after(hand.told, paces)
    pressed = np.clip(own / (hand.median + after.mean(axis=1)[:, None]), _FASTEST, 1.0) ** paces.hurry
    # a step whose report is still on its way may be done, and the next one begun
    rest = np.where(held | (rest < 0), rest, rest * pressed)
    some_left = np.array([[bool(each.left)] for each in hand.told])
    declared = np.where(some_left, _minutes_of(paces.declaring, draws.declared), 0.0)
    opens: Floats = np.maximum(np.maximum(0.0, own), rest + after * np.exp(pace) * pressed + stuck + declared)
    return opens


def _rest(hand: Hand, paces: StepPaces) -> tuple[Bools, Floats, Floats]:
    """Of the step in hand: whether it is held up, minutes from now until it is done, and how slow it is, in sigmas."""
    draws, hold = shared(len(paces.steps)), paces.hold_ups
    unheld = survival(hand.seen, hand.median, hand.sigma)
    beyond = survival(hand.seen - hand.median, hold.minutes, hold.sigma)
    # by Bayes' rule: how well each explains that the step is not reported done. Being held up and being done untold
    # explain it as well however long it takes, so that a place never looks better for having said nothing longer
    whole = (1 - hand.held - hand.untold) * unheld + hand.held + hand.untold
    held = draws.which < hand.held / whole
    untold = ~held & (draws.which < (hand.held + hand.untold) / whole)
    # what is done untold has taken as long as such a step takes at most, or as long as it was seen not to be done
    surviving = np.where(held, beyond, np.where(untold, np.maximum(unheld, _SLOWEST), unheld))
    away = longer(draws.spent, surviving)
    length = np.where(held, hold.minutes, hand.median) * np.exp(np.where(held, hold.sigma, hand.sigma) * away)
    return held, length + np.where(held, hand.median, 0.0) - hand.spent, away


def _after(told: Sequence[Progress], paces: StepPaces) -> tuple[Floats, Floats]:
    """The steps behind the one in hand at the usual pace, and what holds them up: minutes, a row a place."""
    keys = tuple(paces.steps)
    draws = shared(len(keys))
    left = np.array([[each.left.get(key, 0.0) if key != each.step else 0.0 for key in keys] for each in told])
    left = left.reshape(len(told), len(keys))
    lengths = np.array([_minutes_of(paces.steps[key], draws.steps[n]) for n, key in enumerate(keys)])
    hold = paces.hold_ups
    stuck = np.where(draws.held < hold.share, hold.minutes * np.exp(hold.sigma * draws.lengths), 0.0)
    return left @ lengths.reshape(draws.steps.shape), np.where(left > 0, 1.0, 0.0) @ stuck


def _minutes_of(pace: StepPace, draws: Floats) -> Floats:
    return pace.minutes * np.exp(pace.sigma * draws)
