"""Late openings and interruptions, as minutes: computed and documented; a court or a board decides."""

from collections.abc import Iterable
from datetime import datetime, timedelta

Interval = tuple[datetime, datetime]


def minutes_late(opens_at: datetime, opened_at: datetime | None, now: datetime) -> int:
    """Whole minutes from the place's own opening time to its opening, or to `now` before it; never negative."""
    return max(0, int(((opened_at or now) - opens_at).total_seconds() // 60))


def lost_time(intervals: Iterable[Interval], opens_at: datetime, closes_at: datetime) -> timedelta:
    """The union of intervals within the place's own hours: overlaps count once, cut at closing.

    Source: the orders of the North Carolina board in March 2020, which add the minutes a place opened late.
    """
    total, reached = timedelta(0), opens_at
    for begins, ends in sorted(intervals):
        begins, ends = max(begins, reached), min(ends, closes_at)
        if ends > begins:
            total += ends - begins
            reached = ends
    return total


def extended_close(closes_at: datetime, lost_minutes: int, threshold: int, *, inclusive: bool) -> datetime:
    """The closing time if every minute lost were given back, once the plan's threshold is reached.

    Source: N.C.G.S. 163-166.01 says more than 15 minutes, that board's notices at least 15: so both are settings.
    """
    reached = lost_minutes >= threshold if inclusive else lost_minutes > threshold
    return closes_at + timedelta(minutes=lost_minutes) if reached else closes_at
