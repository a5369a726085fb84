"""How many ballots a place has left, and when they run out if voting goes on so.

Ballots are counted as a whole: which ballot styles they are is not known, and a total may hide a style that runs out.
"""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property
from itertools import groupby
from math import inf
from operator import attrgetter

from county.domain.ballot_accounts import NOT_SCANNED
from county.domain.counted import Counted
from county.domain.entries import Entry
from county.domain.expected import Expected
from county.domain.lines import Wait
from county.domain.pace import Pace
from county.domain.place_day import PlaceDay
from county.domain.plan import Limits
from county.domain.read_together import scanned_together
from county.domain.stretches import Reading, stretches

_FAR_MINUTES = 48 * 60
_happened_at = attrgetter("happened_at")

Point = tuple[Entry, int, bool]
"""A count, how many ballots it says are left, and whether it told so: else it was reckoned."""


@dataclass(frozen=True, slots=True)
class Supply:
    """What one count says of the ballots: how many are left, and the pace at which they go. Times are aware UTC.

    `told` is false where what is left was reckoned: delivered less used. `of_day` says that the pace is the whole
    day's and not the last counts', whichever is faster. `pace` is None where it cannot be said. `needed_until` is the
    place's closing time and the wait of the line at the time of the count.
    """

    entry: Entry
    left: int
    told: bool
    pace: Pace | None
    of_day: bool
    needed_until: datetime

    @property
    def at(self) -> datetime:
        return self.entry.happened_at

    @property
    def runs_out_at(self) -> datetime | None:
        """When they are gone at this pace; None where that cannot be said, or is more than two days away."""
        return self._gone(self.pace.a_minute if self.pace else 0.0)

    @property
    def band(self) -> tuple[datetime | None, datetime | None]:
        """When they are gone at the fastest and at the slowest pace of the band (80 %); None as above."""
        slowest, fastest = self.pace.band if self.pace else (0.0, 0.0)
        return self._gone(fastest), self._gone(slowest)

    def _gone(self, a_minute: float) -> datetime | None:
        minutes = self.left / a_minute if a_minute else inf
        return self.at + timedelta(minutes=minutes) if minutes < _FAR_MINUTES else None

    def ends_before(self, margin: timedelta) -> bool:
        """Whether they are gone before everybody has voted and the margin has passed, by the middle of the band."""
        gone = self.runs_out_at
        return gone is not None and gone < self.needed_until + margin

    def short(self, limits: Limits) -> bool:
        """Whether they end too early, and so soon that the county acts."""
        pace = self.pace.a_minute if self.pace else 0.0
        soon = self.left <= pace * (limits.ballots_ahead / timedelta(minutes=1))
        return soon and self.ends_before(limits.ballots_margin)


class Supplies:
    """What each count says of the ballots left, in the order counted; each is reckoned when it is asked for.

    `lines` are the waits of the same day.
    """

    def __init__(self, counted: Counted, expected: Expected, limits: Limits, lines: Sequence[Wait]) -> None:
        self._points = _points(counted, expected)
        self._closes_at = expected.closes_at
        self._limits = limits
        self._lines = lines
        self._counted_at = [wait.at for wait in lines]
        most_an_hour = limits.ballots_per_hour * max(1, len(expected.scanners))
        used = _used(self._points, counted.day, expected)
        self._stretches = stretches(used, most_an_hour, counted.stops)

    def __len__(self) -> int:
        return len(self._points)

    def __iter__(self) -> Iterator[Supply]:
        return map(self.__getitem__, range(len(self)))

    def __getitem__(self, number: int) -> Supply:
        entry, left, told = self._points[number]
        at, old_after = entry.happened_at, self._limits.count_old_after
        recent, whole = self._stretches.lately(at, old_after), self._stretches.all_day(at)
        of_day = whole is not None and (recent is None or whole.a_minute > recent.a_minute)
        return Supply(entry, left, told, whole if of_day else recent, of_day, self._closes_at + self._wait(at))

    @property
    def last(self) -> Supply | None:
        return self[-1] if self._points else None

    def plenty(self, number: int) -> bool:
        """Whether so many are left that they are not short even if they go as fast as ever on this day.

        It is quickly found, and so at most places for most of the day nothing more need be reckoned.
        """
        return self._points[number][1] > self._most

    @cached_property
    def _most(self) -> float:
        """As many as can go while the county still acts; and one, because what is found so is rounded otherwise."""
        return self._stretches.fastest * (self._limits.ballots_ahead / timedelta(minutes=1)) + 1

    def _wait(self, at: datetime) -> timedelta:
        """How long the last in line waits by the last count of it; nothing where that is not known or too old."""
        before = bisect_right(self._counted_at, at)
        line = self._lines[before - 1] if before else None
        if line is None or not line.in_line or not line.known or at - line.at > self._limits.count_old_after:
            return timedelta(0)
        minutes = line.minutes
        return timedelta(minutes=minutes) if minutes < inf else timedelta(0)


def _points(counted: Counted, expected: Expected) -> list[Point]:
    """The counts that say how many are left: as reckoned until somebody told it."""
    told = [(entry, left, True) for entry, left in _told(counted)]
    first = told[0][0].happened_at if told else None
    if first and first <= counted.day.counts[0].happened_at:
        return told
    reckoned = [(entry, left, False) for entry, left in _reckoned(counted, expected)]
    return [each for each in reckoned if first is None or each[0].happened_at < first] + told


def _used(points: Sequence[Point], day: PlaceDay, expected: Expected) -> list[Reading]:
    """Ballots gone, as a counter that rises while they are used; what was delivered to begin with is its beginning."""
    used = [(entry.happened_at, -left) for entry, left, _ in points]
    delivered, opened_at = expected.place.ballots_delivered, day.opened_at
    if used and delivered is not None and opened_at is not None and opened_at < used[0][0]:
        return [(opened_at, -delivered), *used]
    return used


def _told(counted: Counted) -> Iterator[tuple[Entry, int]]:
    """What was told to be left, the least where several were told at a moment."""
    for _, of in groupby(counted.said("ballots_left"), key=lambda each: each[0].happened_at):
        yield min(of, key=lambda each: each[1])


def _reckoned(counted: Counted, expected: Expected) -> Iterator[tuple[Entry, int]]:
    """Delivered less used, at each moment by which every scanner had been read within a quarter of an hour.

    Used is scanned and not scanned (spoiled, provisional and so on), as told last; what was never told counts as none.
    """
    delivered, scanners = expected.place.ballots_delivered, frozenset(expected.scanners)
    others = [name for name in ("ballots_delivered", *NOT_SCANNED) if counted.said(name)]
    read: dict[str, tuple[datetime, int]] = {}
    beside = dict.fromkeys(NOT_SCANNED, 0)
    for at, of in groupby(counted.day.counts, key=_happened_at):
        last: Entry | None = None
        for entry in of:
            for name in others:
                if name == "ballots_delivered":
                    said = entry.number(name)
                    delivered = delivered if said is None else said
                elif name in entry.fields:
                    beside[name] = entry.number(name) or 0
            if (number := entry.number("public_counter")) is not None:
                read[entry.device] = at, number
                last = entry
        scanned = scanned_together(read, at, scanners) if last and delivered is not None else None
        if last and delivered is not None and scanned is not None:
            yield last, max(0, delivered - scanned - sum(beside.values()))
