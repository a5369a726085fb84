"""The county in one sentence: every place counted exactly once, at every hour of the day."""

import re
from datetime import timedelta

import pytest

from county.domain.opening_forecast import OpeningForecast
from dashboard.county_sentence import county
from tests.builders import a_full_opening, a_roster, a_step, after, an_exception, an_interruption, before, clock
from tests.dashboard.a_board import a_board, a_forecast

OPEN = a_full_opening("P014"), a_full_opening("P015"), a_full_opening("P016")


def test_before_anything_is_due() -> None:
    assert county(a_board(now=before(120))) == "2 h to opening. Nothing is due from any place before 05:15."


def test_before_opening_all_on_course() -> None:
    entries = [entry for place in OPEN for entry in place if entry.happened_at <= before(18)]
    assert county(a_board(*entries, now=before(18))) == "18 minutes to opening. All 3 places are on course."


def test_before_opening_with_trouble() -> None:
    entries = [entry for entry in OPEN[0] if entry.happened_at <= before(18)]
    trouble = an_exception("no-power", before(20))
    assert county(a_board(*entries, trouble, now=before(18))) == (
        "18 minutes to opening. 1 of 3 places are on course; 1 is held up and 1 has not been heard from."
    )


def test_after_opening_with_one_late_one_unheard_one_stopped() -> None:
    staffed = a_step("staffed", clock("06:20"), place="P016")
    stopped = an_interruption("stopped", after(30))
    assert county(a_board(*OPEN[0], stopped, staffed, now=after(75))) == (
        "0 of 3 open. 1 late, 1 not heard from, 1 stopped."
    )


def test_all_open() -> None:
    assert county(a_board(*OPEN[0], *OPEN[1], *OPEN[2], now=after(90))) == "All 3 open."


def test_a_place_with_later_hours_is_not_late() -> None:
    assert county(a_board(*OPEN[0], *OPEN[1], now=after(5))) == "2 of 3 open. 1 not due to open yet."


def test_an_impaired_place_is_open() -> None:
    jam = an_exception("scanner-jam", after(10), device="SC-0141")
    assert county(a_board(*OPEN[0], *OPEN[1], *OPEN[2], jam, now=after(90))) == "All 3 open, 1 of them impaired."


def test_in_the_evening() -> None:
    closed = a_step("closed", clock("19:00"))
    received = a_step("received", clock("20:30")), a_step("closed", clock("19:01"), place="P015")
    everything = [*OPEN[0], *OPEN[1], *OPEN[2], closed]
    assert county(a_board(*everything, now=clock("19:05"))) == (
        "1 of 3 closed; 2 still open. 0 received at the office."
    )
    assert county(a_board(*everything, *received, now=clock("20:40"))) == (
        "2 of 3 closed; 1 still open. 1 received at the office."
    )


def test_an_empty_roster() -> None:
    nothing = a_roster(places=(), precincts=(), devices=(), seals=())
    assert county(a_board(roster=nothing)) == "No places are on the roster yet."


def test_places_expected_late_are_counted_before_they_are() -> None:
    staffed = [a_step("staffed", before(44), place=place) for place in ("P014", "P015", "P016")]
    forecasts = [a_forecast(place, "06:05", "06:14", "06:31", 0.7) for place in ("P014", "P015")]
    assert county(a_board(*staffed, now=before(27), forecasts=forecasts)) == (
        "27 minutes to opening. 1 of 3 places are on course; 2 are expected late."
    )
    later = a_forecast("P016", "07:05", "07:14", "07:31", 0.7, opens="07:00")
    assert county(a_board(*OPEN[0], *OPEN[1], staffed[2], now=after(9), forecasts=[later])) == (
        "2 of 3 open. 1 expected late."
    )


@pytest.mark.parametrize("late", [(), ("P015",), ("P014", "P015", "P016")])
def test_every_place_is_counted_exactly_once_at_every_minute(late: tuple[str, ...]) -> None:
    everything = [
        *OPEN[0],
        *OPEN[2],
        an_interruption("impaired", after(20)),
        a_step("staffed", before(50), place="P015"),
        a_step("staffed", after(7), place="P015"),
    ]
    for minute in range(-90, 120, 7):
        now = after(minute)
        told = [entry for entry in everything if entry.received_at <= now]
        ahead = [OpeningForecast(place, now, 0.8, now, now + timedelta(minutes=9), now, "") for place in late]
        said = county(a_board(*told, now=now, forecasts=ahead))
        counted = said.split(". ", 1)[1] if " to opening" in said else re.sub(r", \d+ of them impaired", "", said)
        if "Nothing is due" in counted:
            continue
        numbers = [int(number) for number in re.findall(r"\b(\d+)\b", counted.replace("of 3 ", ""))]
        assert sum(numbers) == 3 or "All 3" in counted, said
