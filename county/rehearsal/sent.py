"""What is told on a made-up day, and how and when it is sent; and how chance is drawn, so that a seed is a day."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from random import Random

ENDPOINT, DROP = "endpoint", "drop"
MISTAKE = "mistake"
ALWAYS_SOME_FROM = 24


@dataclass(frozen=True, slots=True)
class Sent:
    """One report as it is sent: when (aware UTC), which way (`endpoint` or `drop`), its raw fields, what it plays.

    `plays` is empty for the ordinary; what begins with `mistake` is meant to be refused.
    """

    at: datetime
    how: str
    raw: Mapping[str, object]
    plays: str = ""

    @property
    def is_mistake(self) -> bool:
        """Whether the intake is meant to refuse it."""
        return self.plays.startswith(MISTAKE)


def chance(*names: object) -> Random:
    """A source of chance of its own for each name, so that one part of the day does not shift another."""
    return Random("|".join(map(str, names)))


def lognormal(rng: Random, median: float, sigma: float) -> float:
    """A positive length around a median; `sigma` is that of its logarithm."""
    return rng.lognormvariate(math.log(median), sigma)


def some(places: Iterable[str], rate: float, rng: Random, *, always: bool = False) -> frozenset[str]:
    """About `rate` of the places; with `always`, in a county of some size, at least one: met on every such day."""
    among = sorted(places)
    number = math.floor(len(among) * rate + rng.random())
    if always and len(among) >= ALWAYS_SOME_FROM:
        number = max(1, number)
    return frozenset(rng.sample(among, min(number, len(among))))


def minutes(number: float) -> timedelta:
    """A length in minutes."""
    return timedelta(minutes=number)


def whole_minute(moment: datetime) -> datetime:
    """The minute as officers write it down."""
    return moment.replace(second=0, microsecond=0)
