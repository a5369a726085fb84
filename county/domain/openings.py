"""When each place will open, and how likely late: said before it is late, from the steps it has done so far."""

from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta

import numpy as np

from county.domain.opening_chances import Floats, longer, normal_update, percentiles, shared, survival
from county.domain.opening_forecast import OpeningForecast
from county.domain.opening_progress import HeldUp, Progress, progress_of
from county.domain.place_state import PlaceState
from county.domain.plan import Plan
from county.domain.step_paces import StepPace, StepPaces

__all__ = ["OpeningForecast", "forecast_openings"]

BAND = (0.1, 0.5, 0.9)
"""The percentiles of a forecast: in 8 of 10 such mornings the place opens between the outer two."""
_CHUNK = 256
"""Places reckoned at a time, so that the draws stay in the processor's cache."""
_HELD = {HeldUp.PERHAPS: 0.2, HeldUp.SURELY: 1.0}
"""The chance that a reported trouble holds the step in hand up; 1 in 5 is a judgement, what stops voting does."""
_BEHIND = 0.75
"""Reports of every place may come as late as those of three places in four have at most: a judgement."""
_DAY_SPREAD = 0.3
"""How far a whole county's pace may be from what was known beforehand, as a log-sigma: a judgement."""
_MOST_OFF = 2.0
"""What a place did counts for its pace up to so many sigmas away, so that a hold-up is not taken for slowness."""
_LEAST_TOLD = 3.0
"""Moments are told to the minute: fewer minutes of usual work than these say nothing of a pace."""
_FASTEST = 0.5
"""Nobody hurries to less than this share of the usual time: a judgement."""


def forecast_openings(
    states: Iterable[PlaceState], paces: StepPaces, plan: Plan, now: datetime
) -> dict[str, OpeningForecast]:
    """The forecast of each place of which one can be made at `now` (aware UTC), by place id.

    A place that has not been heard from, has opened or has closed has none: unknown is never shown as good. The same
    states and minute give the same forecasts on any machine, in whatever order the states come.

    Steps are lognormal, one after another. The one in hand is longer than the time already spent on it, and may be
    held up. The place's own pace and the county's are learned from what was done so far. What is not reported is
    reckoned as not done, but for the last minutes, in which reports are still on their way.
    """
    now = now.replace(second=0, microsecond=0)
    told = [each for state in states if (each := progress_of(state, paces.steps, now))]
    told.sort(key=lambda each: each.place)
    if not told:
        return {}
    means, variances = _paces(told, paces)
    behind = float(np.quantile([each.behind for each in told], _BEHIND))
    found: dict[str, OpeningForecast] = {}
    for first in range(0, len(told), _CHUNK):
        part = slice(first, first + _CHUNK)
        opens = _openings(told[part], means[part], variances[part], paces, now, behind)
        found |= _forecasts(told[part], opens, plan, now)
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


def _paces(told: Sequence[Progress], paces: StepPaces) -> tuple[Floats, Floats]:
    """Each place's pace as a log factor, mean and variance, after what it has done and what the county has.

    What the others did says how fast this county is today; what a place did itself counts for itself alone.
    """
    usual = np.array([paces.places.get(each.place, 0.0) for each in told])
    own = np.full(len(told), paces.spread**2)
    seen, noise = (np.array(column) for column in zip(*(_told_of_pace(each, paces) for each in told), strict=True))
    off = np.sqrt(own + noise)
    seen = np.where(np.isfinite(noise), usual + np.clip(seen - usual, -_MOST_OFF * off, _MOST_OFF * off), 0.0)
    weights = np.where(np.isfinite(noise), 1 / (own + noise), 0.0)
    total = weights.sum() - weights + 1 / _DAY_SPREAD**2
    day = ((weights * (seen - usual)).sum() - weights * (seen - usual)) / total
    return normal_update(usual + day, own + 1 / total, seen, noise)


def _told_of_pace(each: Progress, paces: StepPaces) -> tuple[float, float]:
    """The logarithm of the time taken over the usual, and its variance; infinite where nothing is told."""
    usual = sum(paces.steps[key].minutes * share for key, share in each.did.items())
    if each.begun_at is None or each.reached_at is None or usual < _LEAST_TOLD:
        return 0.0, float("inf")
    square = sum((paces.steps[key].minutes * share * paces.steps[key].sigma) ** 2 for key, share in each.did.items())
    taken = max(0.5, _minutes(each.reached_at, min(each.reached_at, _of_the_morning(each.begun_at, each, paces))))
    return float(np.log(taken / usual)), square / usual**2 + 0.5 / usual**2


def _of_the_morning(moment: datetime | None, each: Progress, paces: StepPaces) -> datetime:
    """A moment, or when people usually come: what was done the evening before leaves the night out."""
    begins = each.opens_at + timedelta(minutes=paces.arrival)
    return max(moment, begins) if moment else begins


def _openings(
    told: Sequence[Progress], means: Floats, variances: Floats, paces: StepPaces, now: datetime, behind: float
) -> Floats:
    """Minutes from `now` to the opening: a row a place, a column a draw."""
    keys = tuple(paces.steps)
    draws = shared(len(keys))
    own = np.array([_minutes(each.opens_at, now) for each in told])[:, None]
    current = [_in_hand(each, paces, now, behind) for each in told]
    median, sigma, spent, seen = (np.array(column)[:, None] for column in zip(*current, strict=True))
    means, variances = means[:, None], variances[:, None]
    median = median * np.exp(means)
    both = np.sqrt(sigma**2 + variances)
    hold = paces.hold_ups
    unheld = survival(seen, median, both)
    held = np.array([_HELD.get(each.held_up, hold.share) for each in told])[:, None]
    beyond = survival(seen - median, hold.minutes, hold.sigma)
    # by Bayes' rule: how well each explains that the step is not done yet
    is_held = draws.which < held * beyond / ((1 - held) * unheld + held * beyond)
    away = longer(draws.spent, np.where(is_held, beyond, unheld))
    length = np.where(is_held, hold.minutes, median) * np.exp(np.where(is_held, hold.sigma, both) * away)
    rest = length + np.where(is_held, median, 0.0) - spent
    # what the step in hand took says something of the pace of those to come, unless it was held up
    known = variances / both
    pace = np.where(is_held, 0.0, known * away) + np.sqrt(variances - np.where(is_held, 0.0, known**2)) * draws.pace
    after, stuck = _after(told, keys, paces)
    usual = median + after.mean(axis=1)[:, None]
    pressed = np.clip(own / usual, _FASTEST, 1.0) ** paces.hurry
    work = after * np.exp(means + pace) * pressed
    # a step whose report is still on its way may be done, and the next one begun
    rest = np.where(is_held | (rest < 0), rest, rest * pressed)
    some_left = np.array([bool(each.left) for each in told])[:, None]
    declared = np.where(some_left, _minutes_of(paces.declaring, draws.declared), 0.0)
    opens: Floats = np.maximum(np.maximum(0.0, own), rest + work + stuck + declared)
    return opens


def _in_hand(each: Progress, paces: StepPaces, now: datetime, behind: float) -> tuple[float, float, float, float]:
    """Of the step in hand: usual minutes, log-sigma, minutes since it began, and for how many of them it is not done.

    What was done in the last `behind` minutes need not have been heard of yet. All done: it waits for its hour.
    """
    if not each.left:
        waited = max(0.0, _minutes(now, max(each.opens_at, each.reached_at or each.opens_at)))
        return paces.declaring.minutes, paces.declaring.sigma, waited, max(0.0, waited - behind)
    pace = paces.steps[each.step]
    since = _of_the_morning(each.reached_at, each, paces)
    spent = _minutes(now, since)
    return pace.minutes * each.left[each.step], pace.sigma, spent, max(0.0, spent - max(behind, each.behind))


def _after(told: Sequence[Progress], keys: Sequence[str], paces: StepPaces) -> tuple[Floats, Floats]:
    """The steps behind the one in hand at the usual pace, and what holds them up: minutes, a row a place."""
    draws = shared(len(keys))
    left = np.array([[each.left.get(key, 0.0) if key != each.step else 0.0 for key in keys] for each in told])
    left = left.reshape(len(told), len(keys))
    lengths = np.array([_minutes_of(paces.steps[key], draws.steps[n]) for n, key in enumerate(keys)])
    hold = paces.hold_ups
    stuck = np.where(draws.held < hold.share, hold.minutes * np.exp(hold.sigma * draws.lengths), 0.0)
    return left @ lengths.reshape(draws.steps.shape), np.where(left > 0, 1.0, 0.0) @ stuck


def _minutes_of(pace: StepPace, draws: Floats) -> Floats:
    return pace.minutes * np.exp(pace.sigma * draws)
