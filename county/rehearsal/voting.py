"""The hourly counts of a made-up day: people and pieces of paper, never a vote."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from random import Random

from county.domain.expected import Expected
from county.rehearsal.crowds import Crowd
from county.rehearsal.luck import Luck
from county.rehearsal.sent import minutes
from county.rehearsal.sheet import Sheet

REGISTERED = 1_200
MOST_AN_HOUR_AND_SCANNER = 220
BROUGHT = 300
HOUR = timedelta(hours=1)


def counts(sheet: Sheet, expected: Expected, opened_at: datetime, until: datetime, luck: Luck, rng: Random) -> None:
    """Write down the counts at the top of each hour from the opening to `until`: counters, check-ins, line, ballots."""
    scanners = expected.scanners or ("",)
    counters = {device: _start_count(sheet, device) for device in scanners}
    crowd = _crowd(expected, luck, rng)
    papers = Papers(expected.place.ballots_delivered)
    day = expected.closes_at - expected.opens_at
    since = opened_at
    for hour in _hours(opened_at, until):
        hours = (hour - since) / HOUR
        brought = papers.brought(crowd.came)
        most = min(MOST_AN_HOUR_AND_SCANNER * len(scanners) * hours, papers.enough_for)
        share = (since + (hour - since) / 2 - expected.opens_at) / day
        served, in_line = crowd.go_on(share, hours, most, rng)
        for device, more in zip(scanners, _among(int(served), len(scanners)), strict=True):
            counters[device] += more
        papers.use(int(served))
        for device in scanners:
            about: dict[str, object] = {"device": device} if device else {}
            people = papers.told(in_line, brought, rng) if device == scanners[0] else {}
            sheet.tell(hour, {"kind": "count", **about, "public_counter": counters[device], **people}, "count")
        since = hour


class Papers:
    """The ballots of one place: what was delivered, how many have voted, what was told of it last."""

    def __init__(self, delivered: int | None) -> None:
        self.delivered = delivered
        self._voted = 0
        self._check_ins = 0

    @property
    def spoiled(self) -> int:
        return round(self._voted * 0.01)

    @property
    def left(self) -> int | None:
        return None if self.delivered is None else max(0, self.delivered - self._voted - self.spoiled)

    @property
    def enough_for(self) -> float:
        """How many can vote on what is left, a few spoiled."""
        return float("inf") if self.left is None else max(0.0, self.left - self.left // 50 - 1)

    def brought(self, an_hour: float) -> bool:
        """Whether the office has brought more, because less than half an hour's was left."""
        if self.delivered is None or self.left is None or self.left > an_hour / 2:
            return False
        self.delivered += BROUGHT
        return True

    def use(self, voted: int) -> None:
        self._voted += voted

    def told(self, in_line: int, brought: bool, rng: Random) -> dict[str, object]:
        """What is counted once for the place; a few voters who checked in stand in the booths."""
        self._check_ins = max(self._check_ins, self._voted + rng.randint(0, 3))
        people: dict[str, object] = {"check_ins": self._check_ins, "in_line": in_line, "spoiled": self.spoiled}
        people |= {} if self.left is None else {"ballots_left": self.left}
        return people | ({"ballots_delivered": self.delivered} if brought else {})


def _crowd(expected: Expected, luck: Luck, rng: Random) -> Crowd:
    """The voters of this place: fewer than it has ballots, but for the places that were given too few."""
    place, delivered = expected.place.place, expected.place.ballots_delivered
    voters = (expected.place.registered or REGISTERED) * rng.uniform(0.35, 0.6)
    if delivered is not None:
        too_many = rng.uniform(1.15, 1.5)
        voters = delivered * too_many if place in luck.short_of_ballots else min(voters, delivered * 0.8)
    return Crowd(
        voters * HOUR / (expected.closes_at - expected.opens_at),
        rng.uniform(1.4, 2.1),
        slow_morning=place in luck.morning["long-line"],
        slow_evening=place in luck.later.get("long-line", ()),
    )


def _among(number: int, scanners: int) -> Iterator[int]:
    """So many ballots over the scanners, as evenly as can be."""
    for nth in range(scanners):
        yield number // scanners + (nth < number % scanners)


def _hours(opened_at: datetime, until: datetime) -> Iterator[datetime]:
    """Full hours by the clock after the opening, the first at least half an hour after it."""
    hour = (opened_at + minutes(30)).replace(minute=0, second=0, microsecond=0) + timedelta(hours=1)
    while hour <= until:
        yield hour
        hour += timedelta(hours=1)


def _start_count(sheet: Sheet, device: str) -> int:
    """What the device's zero report showed, so that a count never seems to go backwards."""
    return next(
        (
            int(str(told.fields["public_counter"]))
            for told in sheet.told
            if told.fields.get("device", "") == device and "public_counter" in told.fields
        ),
        0,
    )
