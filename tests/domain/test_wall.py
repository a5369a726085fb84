"""Wall time in a record says when it is of another day than election day."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from county.domain.wall import Wall

WALL = Wall(ZoneInfo("America/Chicago"), date(2026, 11, 3))
NOON = datetime(2026, 11, 3, 18, tzinfo=UTC)


@pytest.mark.parametrize(
    ("hours", "minute", "second"),
    [
        (0, "12:00", "12:00:00"),
        (11.5, "23:30", "23:30:00"),
        (12, "00:00\u00a0+1\u00a0d", "00:00:00\u00a0+1\u00a0d"),
        (-12.5, "23:30\u00a0-1\u00a0d", "23:30:00\u00a0-1\u00a0d"),
        (24 * 9, "12:00\u00a0+9\u00a0d", "12:00:00\u00a0+9\u00a0d"),
    ],
)
def test_a_moment_of_another_day_says_how_many_days_apart(hours: float, minute: str, second: str) -> None:
    moment = NOON + timedelta(hours=hours)
    assert (WALL.minute(moment), WALL.second(moment)) == (minute, second)


def test_the_day_is_that_of_the_zone_and_nothing_stands_for_no_moment() -> None:
    assert WALL.days_apart(datetime(2026, 11, 4, 5, 59, tzinfo=UTC)) == 0
    assert WALL.days_apart(datetime(2026, 11, 4, 6, 0, tzinfo=UTC)) == 1
    assert WALL.minute(None) == ""
