"""How many voters come to a place in each hour of a made-up day, and how many it serves; a line is what is left over.

The shape (a rush in the morning, at noon and after work) is a judgement and follows no place in particular.
"""

from dataclasses import dataclass, field
from math import exp
from random import Random

MORNING_OVER, EVENING_FROM = 0.35, 0.6
"""Shares of the day: until when a slow morning lasts, and from when a slow evening."""
_EVERY_HOUR, _WHOLE = 0.75, 1.06
_RUSHES = ((0.9, 0.08, 0.08), (0.5, 0.5, 0.08), (0.75, 0.85, 0.09))
_FULL, _MOST_BY_CHANCE = 0.95, 0.25


def busy(share: float) -> float:
    """How many come at this share of the day against its mean; about 1 on the whole."""
    rushes = (height * exp(-(((share - at) / wide) ** 2)) for height, at, wide in _RUSHES)
    return (_EVERY_HOUR + sum(rushes)) / _WHOLE


@dataclass(slots=True)
class Crowd:
    """The voters of one place: so many an hour come on the mean, `roomy` times as many can be served.

    `slow_morning` and `slow_evening`: then it serves about as many as come on the mean, and a line grows in the rush.
    `waiting` is who stands in line now; `came` and `served` are of the last hour.
    """

    mean: float
    roomy: float
    slow_morning: bool = False
    slow_evening: bool = False
    waiting: float = field(default=0.0, init=False)
    came: float = field(default=0.0, init=False)

    def go_on(self, share: float, hours: float, most: float, rng: Random) -> tuple[float, int]:
        """So many hours around this share of the day: how many were served, at most `most`, and the line at the end."""
        slow = (self.slow_morning and share < MORNING_OVER) or (self.slow_evening and share > EVENING_FROM)
        room = self.mean * (rng.uniform(0.93, 1.05) if slow else self.roomy) * hours
        self.came = self.mean * busy(share) * rng.uniform(0.9, 1.1) * hours
        served = min(self.waiting + self.came, room, most)
        self.waiting += self.came - served
        full = min(_FULL, self.came / room)
        by_chance = min(rng.expovariate(1.0) * full * full / (1 - full), _MOST_BY_CHANCE * room / hours)
        return served, round(self.waiting + by_chance)
