"""The random part of the forecast of openings: draws that all places share, and lognormals cut at the time spent."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr, ndtri

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
DRAWS = 256
SEED = 20261103
_LEAST = 1e-300


@dataclass(frozen=True, slots=True)
class Shared:
    """Random numbers that every place shares, `DRAWS` each: the same forecast on any machine, and no place is luckier.

    Uniform in (0, 1): `which`, `spent`. Standard normal: `pace`, `declared`. A row a step: `steps` and `lengths` are
    standard normal, `held` uniform.
    """

    which: Floats
    spent: Floats
    pace: Floats
    declared: Floats
    steps: Floats
    held: Floats
    lengths: Floats


@lru_cache(maxsize=8)
def shared(steps: int) -> Shared:
    """The draws for so many steps; each number is drawn once from each of `DRAWS` equal parts, in an order of its own.

    Latin hypercube: McKay, Beckman and Conover (1979). It needs far fewer draws than chance alone.
    """
    source = np.random.Generator(np.random.PCG64(SEED))

    def uniform() -> Floats:
        return (source.permutation(DRAWS) + 0.5) / DRAWS

    def rows() -> Floats:
        return np.array([uniform() for _ in range(steps)]).reshape(steps, DRAWS)

    return Shared(uniform(), uniform(), ndtri(uniform()), ndtri(uniform()), ndtri(rows()), rows(), ndtri(rows()))


def survival(spent: Floats, median: Floats | float, sigma: Floats | float) -> Floats:
    """The chance that a lognormal takes longer than the minutes already spent; 1 where none are."""
    away = (np.log(np.maximum(spent, _LEAST)) - np.log(median)) / sigma
    surviving: Floats = np.where(spent > 0, ndtr(-away), 1.0)
    return surviving


def longer(uniform: Floats, surviving: Floats) -> Floats:
    """A standard normal above the point that this share of it survives, by inversion from a uniform number.

    Where S(spent) is the survival of a lognormal median·exp(sigma·Z), median·exp(sigma·longer(U, S(spent))) is that
    lognormal given that it is longer than what was spent: P(X > x | X > spent) = S(x) ÷ S(spent), so S(x) = U·S(spent).
    """
    away: Floats = -ndtri(np.maximum(uniform * surviving, _LEAST))
    return away


def normal_update(means: Floats, variances: Floats, told: Floats, noise: Floats) -> tuple[Floats, Floats]:
    """A normal belief after something was told with normal noise: mean and variance; infinite noise tells nothing."""
    weight = variances / (variances + noise)
    return means + np.where(np.isfinite(noise), weight * (told - means), 0.0), variances * (1 - weight)


def percentiles(values: Floats, shares: Sequence[float]) -> Floats:
    """These percentiles of each row, each one of its values: a column a share."""
    count = values.shape[1]
    at = [min(count - 1, int(share * count)) for share in shares]
    return np.partition(values, at, axis=1)[:, at]
