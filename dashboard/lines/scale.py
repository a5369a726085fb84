"""The scale that the bars of a list share: its ticks above, and a bar with its band, its middle and its limit."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from dashboard import words
from dashboard.markup import Markup, tag, text

LEAST_MINUTES, MOST_MINUTES = 60, 180
_STEPS = (timedelta(hours=1), timedelta(hours=2), timedelta(hours=3), timedelta(hours=6))
_MOST_TICKS = 5


@dataclass(frozen=True, slots=True)
class Scale:
    """From where to where it goes, in minutes or in seconds since 1970, with what is written at which point.

    `now` is where it is now; None on a scale that is no time of day.
    """

    begins: float
    ends: float
    ticks: tuple[tuple[float, str], ...]
    now: float | None = None

    def share(self, value: float) -> float:
        """Where a value lies, as a percentage; what lies outside lies at the edge."""
        return round(100 * min(1.0, max(0.0, (value - self.begins) / (self.ends - self.begins))), 2)

    def head(self) -> Markup:
        """The ticks, seen and not read out: every row says its figures in words."""
        marks = [
            tag("span", text(says), data_at=_edge(self.share(at)), style=f"left:{self.share(at)}%")
            for at, says in self.ticks
        ]
        return tag("li", tag("span", *marks, cls="pr-lines-ticks"), cls="pr-lines-head", aria_hidden="true")

    def bar(self, least: float, middle: float, most: float, limit: float, since: float | None = None) -> Markup:
        """A bar from `least` to `most` with a stroke at its middle, and a rule at the limit; for the eye alone.

        With `since` the way from there to the middle is filled; where that is beyond the scale there is no band to see.
        """
        parts = [_part("limit", self.share(limit))]
        if middle <= self.ends:
            parts = [_part("band", self.share(least), self.share(most)), *parts, _part("middle", self.share(middle))]
        if since is not None:
            parts.insert(0, _part("filled", self.share(since), self.share(middle)))
        if self.now is not None and self.begins <= self.now <= self.ends:
            parts.append(_part("now", self.share(self.now)))
        return tag("span", *parts, cls="pr-lines-bar", aria_hidden="true")


def _part(name: str, left: float, right: float | None = None) -> Markup:
    wide = "" if right is None else f";width:{max(0.0, right - left):.2f}%"
    return tag("span", cls=f"pr-lines-{name}", style=f"left:{left}%{wide}")


def _edge(share: float) -> str:
    """Where a tick is written beside its point and not across it, so that it stays within the scale."""
    return "begin" if share < 4 else "end" if share > 96 else ""


def minutes_of(limit: int, highest: Sequence[float]) -> Scale:
    """Minutes from none to the longest that is likely, but for what would squeeze the rest together."""
    ends = max(LEAST_MINUTES, 2 * limit, min(MOST_MINUTES, max(highest, default=0.0)))
    ends = -(-int(ends) // 30) * 30
    middle = ((float(limit), f"{limit}"),) if limit < ends else ()
    return Scale(0.0, float(ends), ((0.0, "0"), *middle, (float(ends), f"{ends} min")))


def times_of(begins: datetime, ends: datetime, now: datetime, zone: ZoneInfo) -> Scale:
    """Wall times between two moments, at full hours, as many as can be read."""
    length = max(ends - begins, timedelta(hours=1))
    step = next((each for each in _STEPS if length / each <= _MOST_TICKS), _STEPS[-1])
    hour = begins.astimezone(zone).replace(minute=0, second=0, microsecond=0).astimezone(UTC) + timedelta(hours=1)
    ticks = []
    while hour <= begins + length:
        ticks.append((hour.timestamp(), words.clock(hour, zone)))
        hour += step
    return Scale(begins.timestamp(), (begins + length).timestamp(), tuple(ticks), now.timestamp())
