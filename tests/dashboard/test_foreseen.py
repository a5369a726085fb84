"""What is said of openings still to come: when it matters, how sure it is, and nothing where nothing is known."""

from dataclasses import replace

import pytest

from county.domain.forecast_limits import ForecastLimits
from dashboard.evidence import own_time_and_forecast
from dashboard.foreseen import Outlook, forecast_of, in_ten, likely, outlook, sentence
from tests.builders import a_full_opening, a_plan, a_step, after, an_exception, before, raised
from tests.dashboard.a_board import a_board, a_forecast

STAFFED = a_step("staffed", before(44))
LATE = a_forecast("P014", "06:05", "06:14", "06:31", chance=0.74)
ON_COURSE = a_forecast("P014", "06:00", "06:00", "06:00", chance=0.03)


@pytest.mark.parametrize(
    ("chance", "says"),
    [
        (0.0, "fewer than 1 in 10"),
        (0.049, "fewer than 1 in 10"),
        (0.05, "1 in 10"),
        (0.65, "7 in 10"),
        (0.949, "9 in 10"),
        (0.95, "more than 9 in 10"),
        (1.0, "more than 9 in 10"),
    ],
)
def test_a_chance_is_said_in_tenths_and_never_as_certain(chance: float, says: str) -> None:
    assert in_ten(chance) == says


@pytest.mark.parametrize(
    ("chance", "comes_to"),
    [(0.03, Outlook.ON_COURSE), (0.24, Outlook.ON_COURSE), (0.25, Outlook.PERHAPS), (0.5, Outlook.LATE)],
)
def test_what_a_chance_comes_to_is_by_the_countys_own_limit(chance: float, comes_to: Outlook) -> None:
    plan = replace(a_plan(), forecast=ForecastLimits(chance=0.5))
    assert outlook(a_forecast("P014", "06:00", "06:00", "06:09", chance), plan) is comes_to


def test_a_row_says_the_moment_and_its_band() -> None:
    assert likely(LATE, a_board(STAFFED, now=before(20))) == "likely 06:14 (06:05 to 06:31)"


def test_nothing_is_foreseen_of_a_place_that_is_open_or_was_not_heard_from_nor_earlier_than_the_plan_asks() -> None:
    silent = a_board(now=before(20), forecasts=[LATE])
    opened = a_board(*a_full_opening(), now=after(20), forecasts=[LATE])
    too_early = a_board(a_step("staffed", before(70)), now=before(61), forecasts=[LATE])
    for board in (silent, opened, too_early):
        assert forecast_of(board, board.place_by_id["P014"]) is None
        assert sentence(board, board.place_by_id["P014"]) == ""


def test_a_place_is_told_what_is_forecast_how_sure_and_why() -> None:
    board = a_board(STAFFED, now=before(20), forecasts=[LATE])
    assert sentence(board, board.place_by_id["P014"]) == (
        "It will likely open at 06:14, 14 minutes after its own time; "
        "in 8 of 10 such mornings between 06:05 and 06:31. "
        "The chance that it opens late is 7 in 10. "
        "Reckoned from the steps it reported: 1 of 6 steps done; the next, site ready, was due 10 min ago."
    )


def test_a_place_on_course_is_told_so_in_fewer_words() -> None:
    done = [entry for entry in a_full_opening() if entry.text("step") != "open"]
    board = a_board(*done, now=before(3), forecasts=[a_forecast("P014", "06:00", "06:00", "06:00", 0.03, step="")])
    assert sentence(board, board.place_by_id["P014"]) == (
        "By its steps so far it opens in time, at 06:00. "
        "Reckoned from the steps it reported: 6 of 6 steps done, only the opening is to come."
    )


def test_a_case_of_a_place_expected_late_sets_its_own_time_beside_the_likely_one() -> None:
    entries = (STAFFED, raised("expected-late", "expected-late", before(22)))
    board = a_board(*entries, now=before(20), forecasts=[LATE])
    shown = own_time_and_forecast(board, board.case_by_id["P014.expected-late"])
    for says in ("06:00", "its own opening time", "likely 06:14 (06:05 to 06:31)", "7 in 10", "1 of 6 steps done"):
        assert says in shown
    other = a_board(*entries, an_exception("no-power", before(21)), now=before(20), forecasts=[LATE])
    assert own_time_and_forecast(other, other.case_by_id["P014.no-power"]) == ""
    assert own_time_and_forecast(a_board(*entries, now=before(20)), board.case_by_id["P014.expected-late"]) == ""
