"""When a loop beside the endpoint stands still, and when it is only slow."""

from datetime import UTC, datetime, timedelta

import pytest

from county.domain.going_round import Work, patience, standing_still

NOW = datetime(2026, 11, 3, 12, tzinfo=UTC)
EVERY_SECOND = timedelta(seconds=1)


def before(seconds: float) -> datetime:
    return NOW - timedelta(seconds=seconds)


@pytest.mark.parametrize(("ago", "stands_still"), [(0, False), (59, False), (60, False), (61, True), (7_200, True)])
def test_the_clock_stands_still_after_a_minute_without_a_turn(ago: float, stands_still: bool) -> None:
    turned: dict[str, datetime] = {**dict.fromkeys(Work, NOW), Work.CLOCK: before(ago)}
    assert standing_still(turned, NOW) == ({Work.CLOCK: timedelta(seconds=ago)} if stands_still else {})


def test_a_turn_of_the_drop_folder_may_take_as_long_as_its_largest_file() -> None:
    assert Work.DROP not in standing_still(dict.fromkeys(Work, before(300)), NOW)
    assert Work.DROP in standing_still(dict.fromkeys(Work, before(601)), NOW)


def test_what_was_never_done_stands_still_since_nobody_knows_when() -> None:
    assert standing_still({}, NOW) == dict.fromkeys(Work)


def test_a_loop_that_comes_round_seldom_has_ten_turns_of_patience() -> None:
    assert patience(Work.CLOCK, EVERY_SECOND) == timedelta(seconds=60)
    assert patience("sweeping", timedelta(seconds=30)) == timedelta(seconds=300)


def test_a_turn_that_seems_to_be_still_to_come_is_no_standing_still() -> None:
    assert standing_still(dict.fromkeys(Work, before(-5)), NOW) == {}
