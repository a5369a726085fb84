"""Scanners read at about the same time: how many ballots they had scanned together."""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta

THE_PLACE = ""
"""The key of a public counter that is told for the whole place and of no device."""
TOGETHER = timedelta(minutes=15)
"""Readings no further apart are taken as of one moment."""
_NEVER = datetime.min.replace(tzinfo=UTC), 0


def scanned_together(read: Mapping[str, tuple[datetime, int]], at: datetime, scanners: frozenset[str]) -> int | None:
    """Ballots scanned at the place: its own total where told, else all its scanners; None where one is missing.

    `read` is by device when each was read last (aware UTC) and what it showed; only what was read lately counts.
    """
    since = at - TOGETHER
    then, total = read.get(THE_PLACE, _NEVER)
    if then >= since:
        return total
    total = 0
    for scanner in scanners:
        then, number = read.get(scanner, _NEVER)
        if then < since:
            return None
        total += number
    return total if scanners else None
