"""What every place has in hand: which step, for how long, at what pace, and how likely it is held up or done untold."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from county.domain.opening_chances import Floats, normal_update, survival
from county.domain.opening_progress import HeldUp, Progress
from county.domain.step_paces import StepPaces

_HELD = {HeldUp.PERHAPS: 0.2, HeldUp.SURELY: 1.0}
"""The chance that a reported trouble holds the step in hand up; 1 in 5 is a judgement, what stops voting does."""
_UNTOLD = 0.015
"""The share of steps after which a place goes on without telling, as likely as 1 place in 8 a morning: a judgement."""
_BEHIND = 0.75
"""Reports of every place may come as late as those of three places in four have at most: a judgement."""
_DAY_SPREAD = 0.3
"""How far a whole county's pace may be from what was known beforehand, as a log-sigma: a judgement."""
_MOST_OFF = 2.0
"""What a place did counts for its pace up to so many sigmas away, so that a hold-up is not taken for slowness."""
_LEAST_TOLD = 3.0
"""Moments are told to the minute: fewer minutes of usual work than these say nothing of a pace."""
_PRIOR_STEPS, _ROUNDS = 200.0, 3
"""The share of hold-ups known beforehand counts as so many steps of today, a judgement; rounds of making it today's."""


@dataclass(frozen=True, slots=True)
class Hand:
    """Of each place the step in hand, a row a place, one column. Minutes and logarithms.

    `pace` and `variance` are the place's own pace as a log factor, its mean and variance. `median` and `sigma` are the
    step's at that pace, `spent` is how long ago it was begun and `seen` for how much of that it is known not to be
    done. `held` and `untold` are the chances beforehand that it is held up, and that it is done untold.
    """

    told: tuple[Progress, ...]
    pace: Floats
    variance: Floats
    median: Floats
    sigma: Floats
    spent: Floats
    seen: Floats
    held: Floats
    untold: Floats

    def part(self, rows: slice) -> "Hand":
        """Some of the places."""
        columns = (self.pace, self.variance, self.median, self.sigma, self.spent, self.seen, self.held, self.untold)
        return Hand(self.told[rows], *(column[rows] for column in columns))


def in_hand(told: Sequence[Progress], paces: StepPaces, now: datetime) -> Hand:
    """What each of these places has in hand at `now`; what all of them have done bears on each."""
    pace, variance = _paces(told, paces)
    behind = float(np.quantile([each.behind for each in told], _BEHIND))
    median, sigma, spent, seen = _columns(_step(each, paces, now, behind) for each in told)
    median, sigma = median * np.exp(pace), np.sqrt(sigma**2 + variance)
    held = _held_today(told, paces, survival(seen, median, sigma))
    untold = np.array([[0.0 if each.held_up is HeldUp.SURELY else _UNTOLD] for each in told])
    return Hand(tuple(told), pace, variance, median, sigma, spent, seen, held, untold)


def _columns(rows: Iterable[Sequence[float]]) -> list[Floats]:
    return [np.array(column)[:, None] for column in zip(*rows, strict=True)]


def _paces(told: Sequence[Progress], paces: StepPaces) -> tuple[Floats, Floats]:
    """Each place's pace as a log factor, mean and variance, after what it has done and what the county has.

    What the others did says how fast this county is today; what a place did itself counts for itself alone.
    """
    usual = np.array([[paces.places.get(each.place, 0.0)] for each in told])
    own = np.full_like(usual, paces.spread**2)
    seen, noise = _columns(_told_of_pace(each, paces) for each in told)
    off = _MOST_OFF * np.sqrt(own + noise)
    seen = np.where(np.isfinite(noise), usual + np.clip(seen - usual, -off, off), 0.0)
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


def _step(each: Progress, paces: StepPaces, now: datetime, behind: float) -> tuple[float, float, float, float]:
    """Of the step in hand: usual minutes, log-sigma, minutes since it began, and for how many of them it is not done.

    What was done in the last `behind` minutes need not have been heard of yet. All done: it waits for its hour.
    """
    if not each.left:
        waited = max(0.0, _minutes(now, max(each.opens_at, each.reached_at or each.opens_at)))
        return paces.declaring.minutes, paces.declaring.sigma, waited, max(0.0, waited - behind)
    pace = paces.steps[each.step]
    spent = _minutes(now, _of_the_morning(each.reached_at, each, paces))
    return pace.minutes * each.left[each.step], pace.sigma, spent, max(0.0, spent - max(behind, each.behind))


def _held_today(told: Sequence[Progress], paces: StepPaces, unheld: Floats) -> Floats:
    """The chance beforehand that each place's step is held up, as today shows: a step that many wait for is one.

    The share at each step is that known beforehand and what is seen today, the steps done and those in hand, each
    held up with the chance that the share makes it (expectation-maximisation: Dempster, Laird and Rubin 1977).
    """
    keys = (*paces.steps, "")
    at = np.array([keys.index(each.step) for each in told])
    plain = np.array([each.held_up is HeldUp.UNKNOWN for each in told])
    done = np.zeros(len(keys))
    for number, key in enumerate(keys):
        done[number] = sum(each.did.get(key, 0.0) >= 1.0 for each in told)
    share = np.full(len(keys), paces.hold_ups.share)
    waiting = np.bincount(at, minlength=len(keys))
    reported = np.array([_HELD.get(each.held_up, 0.0) for each in told])
    for _ in range(_ROUNDS):
        likely = np.where(plain, share[at] / (share[at] + _UNTOLD + unheld[:, 0]), reported)
        seen = np.bincount(at, weights=likely, minlength=len(keys))
        share = (_PRIOR_STEPS * paces.hold_ups.share + seen) / (_PRIOR_STEPS + done + waiting)
    return np.where(plain, share[at], reported)[:, None]


def _minutes(moment: datetime, since: datetime) -> float:
    return (moment - since).total_seconds() / 60
