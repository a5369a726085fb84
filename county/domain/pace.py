"""How fast people or ballots go through a place, from how many were counted in how long, and how sure that is."""

from collections.abc import Sequence
from datetime import datetime
from functools import lru_cache
from typing import NamedTuple

SHARE = 0.8
"""The share of a band: in eight cases of ten the true pace lies in it."""


class Pace(NamedTuple):
    """So many counted in so many minutes of voting, between two moments (aware UTC); `minutes` is above 0.

    Of several counters together these are the numbers of one counter that would be as sure, so neither need be whole.
    A tuple, because some are made for every count of the day, and that takes a third of the time of a dataclass.
    """

    number: float
    minutes: float
    begins: datetime
    ends: datetime

    @property
    def a_minute(self) -> float:
        return self.number / self.minutes

    @property
    def an_hour(self) -> float:
        return 60 * self.a_minute

    @property
    def band(self) -> tuple[float, float]:
        """The least and the most a minute, as a band of 80 %."""
        least, most = interval(self.number)
        return least / self.minutes, most / self.minutes


@lru_cache(maxsize=8192)
def interval(number: float, share: float = SHARE) -> tuple[float, float]:
    """Between which two numbers the expected one lies where `number` were counted by chance, with this probability.

    The exact interval for a Poisson count: F. Garwood, "Fiducial limits for the Poisson distribution", Biometrika 28
    (1936). That voters come through one after another by chance is an assumption; where they come in groups, the true
    band is wider.
    """
    # a long while to import, and most commands never ask
    from scipy.special import gammaincinv

    tail = (1 - share) / 2
    return float(gammaincinv(number, tail)) if number > 0 else 0.0, float(gammaincinv(number + 1, 1 - tail))


def together(paces: Sequence[Pace]) -> Pace:
    """The pace of several counters at once: the sum of their paces, as sure as they are together. ValueError for none.

    The sum's mean and variance are kept, so a counter read over a short time is not trusted like one read for long.
    """
    if not paces:
        raise ValueError("no pace to add")
    if len(paces) == 1:
        return paces[0]
    begins, ends = min(pace.begins for pace in paces), max(pace.ends for pace in paces)
    mean = sum(pace.a_minute for pace in paces)
    variance = sum(pace.a_minute / pace.minutes for pace in paces)
    if mean == 0:
        return Pace(0, min(pace.minutes for pace in paces), begins, ends)
    return Pace(mean * mean / variance, mean / variance, begins, ends)
