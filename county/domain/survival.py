"""How long until something is reached, when some are still waiting and some ended another way."""

import math
from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import ArrayLike, NDArray

_TOLERANCE = 1e-9  # a product of shares lands a few rounding errors off the exact 0.1


class Outcome(IntEnum):
    """How a wait ended, as far as it was seen."""

    WAITING = 0  # not ended yet: censored
    REACHED = 1
    ENDED_OTHERWISE = 2  # withdrawn before it was reached: a competing event, not censoring


@dataclass(frozen=True, slots=True)
class Curve:
    """The share not yet reached, stepping down at each of `minutes` (ascending); before the first it is 1.

    `at_risk` still waited just before that minute, `reached` were reached at it, `unreached` is the share after it
    and `variance` the variance of that share. `count` waits went in, the longest seen was `longest` minutes (None
    where there were none).
    """

    minutes: tuple[float, ...]
    at_risk: tuple[int, ...]
    reached: tuple[int, ...]
    unreached: tuple[float, ...]
    variance: tuple[float, ...]
    count: int
    longest: float | None

    def at(self, minute: float) -> float:
        """The share not yet reached after so many minutes."""
        passed = int(np.searchsorted(np.array(self.minutes), minute, side="right"))
        return self.unreached[passed - 1] if passed else 1.0


@dataclass(frozen=True, slots=True)
class Percentile:
    """The smallest minute by which a share was reached; None where it was not, with the longest wait seen."""

    share: float
    minutes: float | None
    longest: float | None

    def __str__(self) -> str:
        """`23`, `more than 35` or `no cases`: rounded so that what is said stays true, and never a made-up number."""
        if self.minutes is not None:
            return str(math.ceil(self.minutes - _TOLERANCE))
        return "no cases" if self.longest is None else f"more than {math.floor(self.longest + _TOLERANCE)}"


@dataclass(frozen=True, slots=True)
class RestrictedMean:
    """Mean wait in minutes, each counted up to `to` minutes at most, and its standard error."""

    minutes: float
    standard_error: float
    to: float


def kaplan_meier(durations: ArrayLike, events: ArrayLike) -> Curve:
    """The share still waiting, where `events` is true for a wait that ended and false for one still going on.

    Durations in minutes, none negative (ValueError). Product-limit estimate (Kaplan and Meier 1958); variance by
    Greenwood (1926): S² Σ d / (n (n − d)).
    """
    return incidence(durations, np.where(np.asarray(events, dtype=bool), Outcome.REACHED, Outcome.WAITING))


def incidence(durations: ArrayLike, outcomes: ArrayLike) -> Curve:
    """The share not yet reached, where waits may also end another way (see Outcome).

    `unreached` is 1 − F, F being the cumulative incidence of Aalen and Johansen (1978): a withdrawn case can never be
    reached any more, so it stays unreached, whereas censoring it would pretend that it may yet be. Where nothing ended
    otherwise this is Kaplan–Meier with Greenwood's variance, and in general the variance given is the delta
    method's (Marubini and Valsecchi 1995). Durations in minutes, none negative (ValueError).
    """
    waits, ends = _checked(durations, outcomes)
    minutes, at_risk, reached, otherwise = _risk_table(waits, ends)
    ended = reached + otherwise
    before: NDArray[np.float64] = np.cumprod(np.append(1.0, 1.0 - ended / at_risk))[:-1]
    share = np.cumsum(before * reached / at_risk)
    variance = _incidence_variance(at_risk, reached, ended, before, share)
    kept = reached > 0
    return Curve(
        minutes=tuple(minutes[kept].tolist()),
        at_risk=tuple(at_risk[kept].tolist()),
        reached=tuple(reached[kept].tolist()),
        unreached=tuple(np.maximum(1.0 - share[kept], 0.0).tolist()),
        variance=tuple(variance[kept].tolist()),
        count=len(waits),
        longest=float(waits.max()) if len(waits) else None,
    )


def percentile(curve: Curve, share: float) -> Percentile:
    """The smallest minute by which at least this share was reached: the nearest-rank rule, so no interpolation.

    With nothing censored it is the ordinary nearest-rank percentile. Not reached is None, never a number.
    """
    for minute, unreached in zip(curve.minutes, curve.unreached, strict=True):
        if unreached <= 1.0 - share + _TOLERANCE:
            return Percentile(share, minute, curve.longest)
    return Percentile(share, None, curve.longest)


def restricted_mean(durations: ArrayLike, events: ArrayLike, to: float | None = None) -> RestrictedMean | None:
    """The mean wait, each counted up to `to` minutes at most (the longest wait seen where not given).

    It is the area under the Kaplan–Meier curve; its standard error is √Σ A² d / (n (n − d)), with A the area from each
    end of a wait to `to` (Klein and Moeschberger 2003, 4.5). None where there are no waits, or where `to` lies beyond
    the longest one while some still wait, because the curve is not known there. Durations as for `kaplan_meier`.
    """
    curve = kaplan_meier(durations, events)
    if curve.longest is None:
        return None
    end = curve.longest if to is None else to
    if end > curve.longest and (not curve.unreached or curve.unreached[-1] > _TOLERANCE):
        return None
    before_end = sum(minute < end for minute in curve.minutes)
    edges = np.array([0.0, *curve.minutes[:before_end], end])
    pieces = np.diff(edges) * np.array([1.0, *curve.unreached[:before_end]])
    areas = np.cumsum(pieces[::-1])[::-1][1:].tolist()
    variance = sum(
        area**2 * d / (n * (n - d)) for area, n, d in zip(areas, curve.at_risk, curve.reached, strict=False) if n > d
    )
    return RestrictedMean(float(pieces.sum()), math.sqrt(variance), float(end))


def _checked(durations: ArrayLike, outcomes: ArrayLike) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    waits, ends = np.asarray(durations, dtype=np.float64), np.asarray(outcomes, dtype=np.int64)
    if waits.ndim != 1 or waits.shape != ends.shape:
        raise ValueError("one outcome is needed for each duration")
    if not np.all(np.isfinite(waits)) or np.any(waits < 0):
        raise ValueError("a duration is minutes, 0 or more")
    return waits, ends


def _risk_table(
    waits: NDArray[np.float64], ends: NDArray[np.int64]
) -> tuple[NDArray[np.float64], NDArray[np.int64], NDArray[np.int64], NDArray[np.int64]]:
    """Each distinct minute at which a wait ended, how many still waited just before it, and how they ended.

    A wait censored at the very minute another was reached counts as still waiting then, as is the convention.
    """
    ended = ends != Outcome.WAITING
    minutes, index = np.unique(waits[ended], return_inverse=True)
    reached = np.bincount(index, weights=(ends[ended] == Outcome.REACHED), minlength=len(minutes)).astype(np.int64)
    otherwise = np.bincount(index, minlength=len(minutes)) - reached
    at_risk = len(waits) - np.searchsorted(np.sort(waits), minutes, side="left")
    return minutes, at_risk.astype(np.int64), reached, otherwise.astype(np.int64)


def _incidence_variance(
    at_risk: NDArray[np.int64],
    reached: NDArray[np.int64],
    ended: NDArray[np.int64],
    before: NDArray[np.float64],
    share: NDArray[np.float64],
) -> NDArray[np.float64]:
    """Σ over the minutes so far of [F(t) − Fᵢ]² d/(n (n−d)) + S² r (n−r)/n³ − 2 [F(t) − Fᵢ] S r/n².

    Expanded in powers of F(t), so that running sums serve every minute at once. Where all who waited end at once,
    n − d is 0; F(t) − Fᵢ is 0 from there on, so that the term counts for nothing.
    """
    n, d, r = at_risk.astype(np.float64), ended.astype(np.float64), reached.astype(np.float64)
    left = n - d
    hazard = np.divide(d, n * left, out=np.zeros_like(n), where=left > 0)
    cross = before * r / n**2
    total: NDArray[np.float64] = (
        share**2 * np.cumsum(hazard)
        - 2 * share * np.cumsum(hazard * share + cross)
        + np.cumsum(hazard * share**2 + before**2 * r * (n - r) / n**3 + 2 * cross * share)
    )
    return total.clip(min=0.0)
