"""How long voters wait in line: the people in it by the pace at which they are served.

Little's law (J. D. C. Little, "A Proof for the Queuing Formula L = λW", Operations Research 9, 1961): the mean wait is
the mean number waiting divided by the rate at which they are served. It is a law of long averages; a single count and
the pace of the last hour make an estimate of it, and the band shows only how sure that pace is.
"""

from datetime import datetime
from math import inf
from typing import NamedTuple

from county.domain.counted import Counted
from county.domain.entries import Entry
from county.domain.expected import Expected
from county.domain.pace import Pace
from county.domain.place_day import PlaceDay
from county.domain.plan import Limits
from county.domain.served import Basis, Served

LAST_VOTER = "last-voter"
"""The step of the usual sheet that says that nobody is in line any more."""


class Wait(NamedTuple):
    """What one count of the line says: `in_line` people, and the pace at which they are served.

    `pace` is None where it cannot be said, and `why` says why. Nobody in line is no wait, whatever the pace.
    A tuple, as `Pace` is.
    """

    entry: Entry
    in_line: int
    pace: Pace | None
    basis: Basis | None = None
    why: str = ""

    @property
    def at(self) -> datetime:
        """When the line was counted (aware UTC)."""
        return self.entry.happened_at

    @property
    def known(self) -> bool:
        """Whether a wait can be said at all."""
        return self.pace is not None or self.in_line == 0

    @property
    def minutes(self) -> float:
        """The estimated wait; infinite where nobody was served. ValueError where it cannot be said."""
        return self._at(self.pace.a_minute if self.pace else None)

    @property
    def band(self) -> tuple[float, float]:
        """The wait at the fastest and at the slowest pace of the band, in minutes; as `minutes` otherwise."""
        slowest, fastest = self.pace.band if self.pace else (None, None)
        return self._at(fastest), self._at(slowest)

    def _at(self, a_minute: float | None) -> float:
        if self.in_line == 0:
            return 0.0
        if a_minute is None:
            raise ValueError(f"the wait cannot be said: {self.why}")
        return self.in_line / a_minute if a_minute else inf

    def exceeds(self, minutes: int) -> bool:
        """Whether the wait in whole minutes is longer; where nobody was served, whether it is by all that is likely."""
        if self.pace is None or self.in_line == 0:
            return False
        middle = self.minutes
        return round(self.band[0] if middle == inf else middle) > minutes


def waits(counted: Counted, expected: Expected, limits: Limits) -> tuple[Wait, ...]:
    """What each count of the line says, in the order counted; each rests on what had happened by then."""
    lines = counted.said("in_line")
    if not lines:
        return ()
    served = Served(counted, expected, limits)
    made: list[Wait] = []
    for entry, in_line in lines:
        if counted.day.interrupted and served.is_stopped(entry.happened_at):
            made.append(Wait(entry, in_line, None, why="voting was stopped"))
            continue
        found = served.at(entry.happened_at)
        made.append(Wait(entry, in_line, None, why=found) if isinstance(found, str) else Wait(entry, in_line, *found))
    return tuple(made)


def voting_over(day: PlaceDay, expected: Expected) -> datetime | None:
    """When the last voter had voted; where the plan has no such step, when the place closed. None before."""
    at = day.done.get(LAST_VOTER) or day.received_at
    if at or day.closed_at is None:
        return at
    return None if any(step.key == LAST_VOTER for step in expected.steps) else day.closed_at
