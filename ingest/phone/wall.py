"""How a moment is written on a phone's page: the time of day where the reader is."""

from collections.abc import Callable
from datetime import datetime
from zoneinfo import ZoneInfo

Wall = Callable[[datetime], str]


def wall_of(zone: ZoneInfo) -> Wall:
    """Writes a moment as the time of day in a zone."""
    return lambda moment: f"{moment.astimezone(zone):%H:%M}"
