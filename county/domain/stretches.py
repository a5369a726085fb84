"""From readings of a counter to the stretches of a day: how many more from one reading to the next, in how long.

A reading that cannot follow the one before (fewer, or more than anything can count) is left out, and with it nothing
else; where the next reading fits only that one, the one before was wrong and a new row begins. Each stretch rests on
what had happened by its end and on nothing later.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from itertools import pairwise
from math import inf

from county.domain.lost_time import lost_time
from county.domain.pace import Pace
from county.domain.stops_told import StopsTold

LEAST_SECONDS = 30 * 60.0
"""How far the last counts reach back at least: with hourly counts the last hour, with more of them half an hour."""
_A_FEW = 10

Reading = tuple[datetime, int]


@dataclass(slots=True)
class Stretches:
    """A counter's stretches in columns: from when to when (aware UTC), and sums up to each beginning and end.

    `numbers` and `seconds` (of voting: stops are left out) have one value more than there are stretches.
    """

    begins: list[datetime] = field(default_factory=list)
    ends: list[datetime] = field(default_factory=list)
    numbers: list[int] = field(default_factory=lambda: [0])
    seconds: list[float] = field(default_factory=lambda: [0.0])

    def lately(self, at: datetime, old_after: timedelta) -> Pace | None:
        """The pace of the last ones at a moment; None where there is none, or the last one ended too long before."""
        last, since = bisect_right(self.ends, at), at - old_after
        if not last or self.ends[last - 1] < since:
            return None
        far_enough = bisect_right(self.seconds, self.seconds[last] - LEAST_SECONDS, 0, last) - 1
        first = max(0, far_enough)
        if self.ends[first] < since:
            first = bisect_left(self.ends, since, first, last - 1)
        return self._pace(first, last)

    def all_day(self, at: datetime) -> Pace | None:
        """The pace of all of them up to a moment; None where there is none."""
        return self._pace(0, bisect_right(self.ends, at))

    @property
    def fastest(self) -> float:
        """The most a minute in any of them, which no pace of several together passes; 0 where there is none."""
        columns = zip(pairwise(self.numbers), pairwise(self.seconds), strict=True)
        paces = ((n - m) / (t - s) if t > s else inf for (m, n), (s, t) in columns if n > m)
        return 60 * max(paces, default=0.0)

    def any_counted(self, since: datetime, until: datetime) -> bool:
        """Whether somebody was counted in a stretch between two moments."""
        first, last = bisect_left(self.begins, since), bisect_right(self.ends, until)
        return first < last and self.numbers[first] < self.numbers[last]

    def _pace(self, first: int, last: int) -> Pace | None:
        seconds = self.seconds[last] - self.seconds[first]
        if seconds <= 0:
            return None
        number = self.numbers[last] - self.numbers[first]
        return Pace(number, seconds / 60, self.begins[first], self.ends[last - 1])

    def _add(self, before: Reading, after: Reading, stops: StopsTold) -> None:
        (begins, showed), (ends, shows) = before, after
        voting = ends - begins
        if told := stops.by(ends):
            # whoever is counted has voted: a stop of which nobody said that it is over was over by then
            lasted = (each for each in told if each.ends or each.begins > begins or shows == showed)
            voting -= lost_time(((each.begins, each.ends or ends) for each in lasted), begins, ends)
        self.begins.append(begins)
        self.ends.append(ends)
        self.numbers.append(self.numbers[-1] + shows - showed)
        self.seconds.append(self.seconds[-1] + voting.total_seconds())


def stretches(readings: Iterable[Reading], most_an_hour: int, stops: StopsTold) -> Stretches:
    """Every stretch between readings that follow one another, which are in the order they were read.

    `most_an_hour` is what no counter can pass.
    """
    made = Stretches()
    trusted: Reading | None = None
    doubted: Reading | None = None
    for reading in readings:
        if trusted is None:
            trusted = reading
            continue
        if _follows(trusted, reading, most_an_hour):
            before = trusted
        elif doubted is not None and _follows(doubted, reading, most_an_hour):
            before = doubted
        else:
            doubted = reading
            continue
        made._add(before, reading, stops)
        trusted, doubted = reading, None
    return made


def _follows(before: Reading, after: Reading, most_an_hour: int) -> bool:
    more = after[1] - before[1]
    if more <= _A_FEW:
        return more >= 0
    hours = max((after[0] - before[0]).total_seconds(), 60) / 3600
    return more <= most_an_hour * hours + _A_FEW
