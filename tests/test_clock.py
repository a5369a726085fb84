"""The clock: real, or set and saying so; the same in every process that is told since when."""

import time
from datetime import UTC, datetime, timedelta

from county.clock import Clock, clock_from
from county.settings import settings_from

STARTS = datetime(2026, 11, 3, 11, tzinfo=UTC)


def a_clock(now: str, **more: str) -> Clock:
    return clock_from(
        settings_from({"POLLRISE_NOW": now} | {f"POLLRISE_{name}": value for name, value in more.items()})
    )


def test_the_real_clock_is_now_and_aware() -> None:
    clock = clock_from(settings_from({}))
    before = datetime.now(UTC)
    assert before <= clock.now() <= datetime.now(UTC)
    assert clock.now().tzinfo is UTC
    assert (clock.real, clock.word) == (True, "real")


def test_a_set_clock_starts_there_and_runs_on() -> None:
    clock = a_clock("2026-11-03T05:00:00-06:00")
    assert timedelta(0) <= clock.now() - STARTS < timedelta(seconds=5)
    first = clock.now()
    time.sleep(0.02)
    assert timedelta(seconds=0.015) < clock.now() - first < timedelta(seconds=5)
    assert (clock.real, clock.word) == (False, "set")


def test_a_clock_with_speed_0_stands_still() -> None:
    clock = a_clock("2026-11-03T05:00:00-06:00x0")
    time.sleep(0.01)
    assert clock.now() == STARTS


def test_a_clock_with_speed_60_runs_a_minute_a_second() -> None:
    since = time.time() - 30
    clock = a_clock("2026-11-03T05:00:00-06:00x60", NOW_SINCE=f"{since:.6f}")
    assert timedelta(minutes=30) <= clock.now() - STARTS < timedelta(minutes=35)


def test_two_processes_told_since_when_agree() -> None:
    told = {"NOW_SINCE": f"{time.time() - 100:.6f}"}
    first = a_clock("2026-11-03T05:00:00-06:00x60", **told)
    time.sleep(0.01)
    assert a_clock("2026-11-03T05:00:00-06:00x60", **told) == first
