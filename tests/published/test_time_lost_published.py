"""Minutes late, time lost and extended hours against published orders and statutes."""

from datetime import datetime, timedelta

import pytest

from county.domain.lost_time import extended_close, lost_time, minutes_late

MINUTE = timedelta(minutes=1)
INCLUSIVE = (True, False)


def at(clock: str) -> datetime:
    return datetime.fromisoformat(f"2020-03-03T{clock}:00-05:00")


# North Carolina State Board of Elections, March 2020: polls open 06:30, close 19:30; each place that opened late was
# given those minutes at the end of the day.
NORTH_CAROLINA = [("07:04", 34, "20:04"), ("06:47", 17, "19:47"), ("07:15", 45, "20:15")]

# Fulton County, Georgia, 2024: polls close 19:00; places kept open until these times, and the minutes lost in each.
FULTON = [("19:10", 10), ("19:15", 15), ("19:43", 43), ("19:45", 45), ("19:45", 45)]


@pytest.mark.parametrize(("opened", "late", "closes"), NORTH_CAROLINA)
def test_north_carolina_2020(opened: str, late: int, closes: str) -> None:
    minutes = minutes_late(at("06:30"), at(opened), at("12:00"))
    assert minutes == late
    for inclusive in INCLUSIVE:
        assert extended_close(at("19:30"), minutes, 15, inclusive=inclusive) == at(closes)
    assert lost_time([(at("06:30"), at(opened))], at("06:30"), at("19:30")) == late * MINUTE


@pytest.mark.parametrize(("closes", "lost"), FULTON)
def test_fulton_2024(closes: str, lost: int) -> None:
    assert extended_close(at("19:00"), lost, 0, inclusive=True) == at(closes)


def test_fulton_2024_sums_to_158_minutes() -> None:
    # nine in the morning stands for whenever voting was stopped there
    stopped = [[(at("09:00"), at("09:00") + lost * MINUTE)] for _, lost in FULTON]
    total = sum((lost_time(each, at("07:00"), at("19:00")) for each in stopped), timedelta(0))
    assert total == 158 * MINUTE


# N.C.G.S. 163-166.01: "more than 15 minutes"; that board's own notices: "at least 15": so a plan says which.


@pytest.mark.parametrize(
    ("lost", "inclusive", "given_back"),
    [(14, True, 0), (15, True, 15), (16, True, 16), (14, False, 0), (15, False, 0), (16, False, 16)],
)
def test_the_threshold_of_fifteen_minutes(lost: int, inclusive: bool, given_back: int) -> None:
    assert extended_close(at("19:30"), lost, 15, inclusive=inclusive) == at("19:30") + given_back * MINUTE


# O.C.G.A. 21-2-403(b): the extension is never longer than the time lost.


@pytest.mark.parametrize("lost", [0, 1, 15, 16, 60, 780])
@pytest.mark.parametrize("threshold", [0, 15, 30])
@pytest.mark.parametrize("inclusive", INCLUSIVE)
def test_no_more_is_given_back_than_was_lost(lost: int, threshold: int, inclusive: bool) -> None:
    extended = extended_close(at("19:00"), lost, threshold, inclusive=inclusive)
    assert at("19:00") <= extended <= at("19:00") + lost * MINUTE


def test_a_place_that_opened_in_time_or_early_is_not_late() -> None:
    assert minutes_late(at("06:30"), at("06:30"), at("12:00")) == 0
    assert minutes_late(at("06:30"), at("06:20"), at("12:00")) == 0


def test_overlapping_interruptions_count_once_and_are_cut_at_closing() -> None:
    intervals = [
        (at("06:30"), at("07:04")),
        (at("06:50"), at("07:10")),
        (at("07:00"), at("07:05")),
        (at("19:20"), at("21:00")),
    ]
    assert lost_time(intervals, at("06:30"), at("19:30")) == 50 * MINUTE
