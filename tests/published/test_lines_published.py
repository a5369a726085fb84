"""Waits: the limit that was recommended, the exact interval of a count, and the law, where both its sides are known."""

from math import log
from random import Random

import pytest

from county.domain.lines import Wait
from county.domain.pace import Pace, interval, together
from county.domain.plan import Limits
from county.domain.plan_file import parse_plan
from county.setting_up import SAMPLE_PLAN
from tests.builders import a_count, after


def test_no_voter_should_wait_longer_than_half_an_hour() -> None:
    # Presidential Commission on Election Administration, "The American Voting Experience" (2014): 30 minutes
    plan = parse_plan(SAMPLE_PLAN.read_text(encoding="utf-8"), "plan.toml")
    assert plan.limits.wait_minutes == Limits().wait_minutes == 30


@pytest.mark.parametrize(
    ("counted", "least", "most"), [(0, 0.0, 3.689), (1, 0.0253, 5.572), (5, 1.623, 11.668), (10, 4.795, 18.390)]
)
def test_the_exact_interval_of_a_count(counted: int, least: float, most: float) -> None:
    # 95 %: the tables after Garwood (1936), as textbooks print them; from memory
    assert interval(counted, 0.95) == pytest.approx((least, most), abs=0.001)


def test_its_closed_forms_for_none_and_one() -> None:
    assert interval(0) == pytest.approx((0, -log(0.1)))
    assert interval(1)[0] == pytest.approx(-log(0.9))


def test_the_band_holds_the_true_pace_at_least_as_often_as_it_says() -> None:
    # the exact interval never promises too much; for a mean of 20 it is some percent wider than it had to be
    chance, inside, days = Random(1), 0, 2_000
    for _ in range(days):
        at, counted = chance.expovariate(20), 0
        while at < 1:
            counted += 1
            at += chance.expovariate(20)
        least, most = interval(counted)
        inside += least <= 20 <= most
    assert 0.79 <= inside / days <= 0.88


@pytest.mark.parametrize(("arrive", "served", "people", "minutes"), [(30, 40, 3, 6), (45, 50, 9, 12), (50, 60, 5, 6)])
def test_littles_law_with_the_queue_whose_mean_number_and_mean_time_are_both_known(
    arrive: int, served: int, people: int, minutes: int
) -> None:
    # one server, arrivals and times by chance: people a/(s-a), hours 1/(s-a), as in every textbook; in the long run as
    # many are served an hour as arrive. The law is J. D. C. Little's (1961)
    assert people == arrive / (served - arrive)
    wait = Wait(a_count(after(60)), people, Pace(arrive, 60, after(0), after(60)))
    assert wait.minutes == pytest.approx(minutes) == pytest.approx(60 / (served - arrive))


def test_paces_are_added_as_sure_as_one_counter_that_saw_both() -> None:
    def pace(number: float, minutes: float) -> Pace:
        return Pace(number, minutes, after(0), after(minutes))

    both = together([pace(30, 60), pace(50, 60)])
    assert (both.number, both.minutes) == pytest.approx((80, 60))
    # a short look at one of them makes the sum less sure than its number of people would
    uneven = together([pace(30, 60), pace(5, 6)])
    assert uneven.an_hour == pytest.approx(80)
    assert uneven.number < 35
    assert together([pace(0, 60), pace(0, 30)]).minutes == 30
    with pytest.raises(ValueError, match="no pace"):
        together([])
