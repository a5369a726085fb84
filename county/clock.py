"""The one place that reads the clock; for rehearsals and tests it can be set, and then it says so."""

import time
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from county.settings import Settings, parse_set_clock


@dataclass(frozen=True, slots=True)
class Clock:
    """The real clock, or one that was set: at `starts` when Unix time was `since`, running `speed` times as fast."""

    starts: datetime | None = None
    speed: float = 1.0
    since: float = 0.0

    @property
    def real(self) -> bool:
        """Whether this is the real time of day."""
        return self.starts is None

    @property
    def word(self) -> str:
        """How an entry says by which clock it was received: `real` or `set`."""
        return "real" if self.real else "set"

    def now(self) -> datetime:
        """The present moment by this clock, aware UTC."""
        if self.starts is None:
            return datetime.now(UTC)
        return self.starts + timedelta(seconds=(time.time() - self.since) * self.speed)


def clock_from(settings: Settings) -> Clock:
    """The clock that the settings ask for; a set clock without POLLRISE_NOW_SINCE starts now."""
    if not settings.now:
        return Clock()
    starts, speed = parse_set_clock(settings.now)
    return Clock(starts, speed, time.time() if settings.now_since is None else settings.now_since)
