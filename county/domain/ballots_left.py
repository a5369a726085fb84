"""How many ballots a place has left, and when they run out if voting goes on so.

Ballots are counted as a whole: which ballot styles they are is not known, and a total may hide a style that runs out.
"""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from itertools import groupby
from math import inf
from typing import NamedTuple

from county.domain.ballot_accounts import NOT_SCANNED
from county.domain.counted import Counted
from county.domain.entries import Entry
from county.domain.expected import Expected
from county.domain.lines import Wait
from county.domain.pace import Pace
from county.domain.place_day import PlaceDay
from county.domain.plan import Limits
from county.domain.served import THE_PLACE
from county.domain.stretches import Reading, stretches

_TOGETHER = timedelta(minutes=15)
_FAR_MINUTES = 48 * 60


class Supply(NamedTuple):
    """What one count says of the ballots: how many are left, and the pace at which they go. Times are aware UTC.

    `told` is false where what is left was reckoned: delivered less used. `of_day` says that the pace is the whole
    day's and not the last counts', whichever is faster. `pace` is None where it cannot be said. `needed_until` is the
    place's closing time and the wait of the line at the time of the count. A tuple, as `Pace` is.
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


def supplies(counted: Counted, expected: Expected, limits: Limits, lines: Sequence[Wait]) -> tuple[Supply, ...]:
    """What each count says of the ballots left, in the order counted; `lines` are the waits of the same day."""
    day, told = counted.day, list(_told(counted))
    first = told[0][0].happened_at if told else None
    reckoned = [] if first and first <= day.counts[0].happened_at else list(_reckoned(counted, expected))
    points = [(entry, left, False) for entry, left in reckoned if first is None or entry.happened_at < first]
    points += [(entry, left, True) for entry, left in told]
    if not points:
        return ()
    scanners = max(1, len(expected.scanners))
    made = stretches(_used(points, day, expected), limits.ballots_per_hour * scanners, counted.stops)
    waiting = iter(lines)
    line, coming = None, next(waiting, None)
    found: list[Supply] = []
    for entry, left, is_told in points:
        at = entry.happened_at
        while coming is not None and coming.at <= at:
            line, coming = coming, next(waiting, None)
        recent, whole = made.lately(at, limits.count_old_after), made.all_day(at)
        of_day = whole is not None and (recent is None or whole.a_minute > recent.a_minute)
        until = expected.closes_at + _wait(line, at, limits) if line else expected.closes_at
        found.append(Supply(entry, left, is_told, whole if of_day else recent, of_day, until))
    return tuple(found)


def _used(points: Sequence[tuple[Entry, int, bool]], day: PlaceDay, expected: Expected) -> list[Reading]:
    """Ballots gone, as a counter that rises while they are used; what was delivered to begin with is its beginning."""
    delivered, opened_at = expected.place.ballots_delivered, day.opened_at
    begins = delivered is not None and opened_at is not None and opened_at < points[0][0].happened_at
    base = [(opened_at, -delivered)] if begins and opened_at and delivered is not None else []
    return [*base, *((entry.happened_at, -left) for entry, left, _ in points)]


def _told(counted: Counted) -> Iterator[tuple[Entry, int]]:
    """What was told to be left, the least where several were told at a moment."""
    for _, of in groupby(counted.said("ballots_left"), key=lambda each: each[0].happened_at):
        yield min(of, key=lambda each: each[1])


def _reckoned(counted: Counted, expected: Expected) -> Iterator[tuple[Entry, int]]:
    """Delivered less used, at each moment by which every scanner had been read within a quarter of an hour.

    Used is scanned and not scanned (spoiled, provisional and so on), as told last; what was never told counts as none.
    """
    delivered, scanners = expected.place.ballots_delivered, frozenset(expected.scanners)
    read: dict[str, tuple[datetime, int]] = {}
    beside: dict[str, int] = {}
    for at, of in groupby(counted.day.counts, key=lambda entry: entry.happened_at):
        last: Entry | None = None
        for entry in of:
            said = entry.number("ballots_delivered")
            delivered = delivered if said is None else said
            beside |= {name: entry.number(name) or 0 for name in NOT_SCANNED if name in entry.fields}
            if (number := entry.number("public_counter")) is not None:
                read[entry.device] = at, number
                last = entry
        if last is None or delivered is None:
            continue
        scanned = _scanned({device: n for device, (then, n) in read.items() if at - then <= _TOGETHER}, scanners)
        if scanned is not None:
            yield last, max(0, delivered - scanned - sum(beside.values()))


def _scanned(fresh: dict[str, int], scanners: frozenset[str]) -> int | None:
    """Ballots scanned at the place: its own total where told, else all its scanners; None where one is missing."""
    if THE_PLACE in fresh:
        return fresh[THE_PLACE]
    return sum(fresh[device] for device in scanners) if scanners and fresh.keys() >= scanners else None


def _wait(line: Wait, at: datetime, limits: Limits) -> timedelta:
    """How long the last in line waits by this count of it; nothing where that is not known or too old."""
    if not line.in_line or not line.known or at - line.at > limits.count_old_after:
        return timedelta(0)
    minutes = line.minutes
    return timedelta(minutes=minutes) if minutes < inf else timedelta(0)
