"""Times and durations are read as people and programs write them, and never guessed."""

from datetime import UTC, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from county.domain.moments import is_zone, parse_clock, parse_duration, parse_moment, write_moment


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("06:00", time(6)),
        (" 6:00 ", time(6)),
        ("19:30:00", time(19, 30)),
        ("7:00 am", time(7)),
        ("7:00PM", time(19)),
        ("12:00 a.m.", time(0)),
        ("12:30 p.m.", time(12, 30)),
        ("24:00", time(0)),
    ],
)
def test_a_wall_time_is_read(text: str, expected: time) -> None:
    assert parse_clock(text) == expected


@pytest.mark.parametrize(
    "text", ["", "6", "0600", "25:00", "24:01", "06:60", "13:00 pm", "0:30 am", "06:00:30", "noon"]
)
def test_what_is_no_wall_time_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="is not a time of day like 06:00"):
        parse_clock(text)


@given(st.times(timezones=st.none()))
def test_every_minute_of_the_day_is_read_back_both_ways(clock: time) -> None:
    clock = clock.replace(second=0, microsecond=0)
    assert parse_clock(f"{clock:%H:%M}") == parse_clock(f"{clock:%I:%M %p}") == clock


@pytest.mark.parametrize("name", ["America/Chicago", "UTC", "America/Indiana/Knox"])
def test_a_zone_of_the_iana_database_is_known(name: str) -> None:
    assert is_zone(name)


@pytest.mark.parametrize(
    "name", ["", "America", "America/Nowhere", "../etc/passwd", "/UTC", "Chicago", "\0", "x" * 300]
)
def test_anything_else_is_no_zone(name: str) -> None:
    assert not is_zone(name)


@given(st.datetimes(timezones=st.just(UTC)))
def test_a_moment_written_is_the_moment_read(moment: datetime) -> None:
    assert parse_moment(write_moment(moment)) == moment


@given(st.integers(-9_999, 9_999))
def test_minutes_are_read_whichever_sign_they_have(minutes: int) -> None:
    assert parse_duration(f"{minutes}m") == timedelta(minutes=minutes)
