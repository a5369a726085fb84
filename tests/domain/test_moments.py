"""Times and durations are read as people and programs write them, and never guessed."""

from datetime import UTC, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from county.domain.moments import is_zone, parse_clock, parse_duration, parse_moment, whole_minutes, write_moment


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


@pytest.mark.parametrize(
    ("text", "moment"),
    [
        ("2026-11-03T05:41:00-06:00", datetime(2026, 11, 3, 11, 41, tzinfo=UTC)),
        ("2024-02-29T23:59:59Z", datetime(2024, 2, 29, 23, 59, 59, tzinfo=UTC)),
        ("9999-12-31T23:59:59Z", datetime(9999, 12, 31, 23, 59, 59, tzinfo=UTC)),
        ("2026-11-04T02:00:00+14:00", datetime(2026, 11, 3, 12, tzinfo=UTC)),
        ("2026-11-03t12:00:00.25z", datetime(2026, 11, 3, 12, 0, 0, 250_000, tzinfo=UTC)),
        # RFC 3339, 4.3: the time in UTC is known, the offset is not
        ("2026-11-03T12:00:00-00:00", datetime(2026, 11, 3, 12, tzinfo=UTC)),
        ("2026-11-03T12:00:00", None),
    ],
)
def test_a_moment_is_read_as_rfc_3339_writes_it(text: str, moment: datetime | None) -> None:
    assert parse_moment(text) == moment


@pytest.mark.parametrize(
    "text", ["", "2026-11-03", "12:00", "2023-02-29T12:00:00Z", "2026-11-03T12:00Z", "9999-12-31T23:59:59-00:01"]
)
def test_what_is_no_moment_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"not a time like|no such time in the calendar"):
        parse_moment(text)


@pytest.mark.parametrize(("seconds", "minutes"), [(-61, 0), (0, 0), (59.9, 0), (60, 1), (119, 1), (7_200, 120)])
def test_whole_minutes_are_those_that_have_ended_and_never_negative(seconds: float, minutes: int) -> None:
    assert whole_minutes(timedelta(seconds=seconds)) == minutes
