"""Waits that are over, still going on, or ended another way."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from county.domain.survival import Outcome, incidence, kaplan_meier, percentile, restricted_mean

WAITING, REACHED, OTHERWISE = Outcome.WAITING, Outcome.REACHED, Outcome.ENDED_OTHERWISE

waits = st.lists(st.tuples(st.integers(0, 40), st.sampled_from(list(Outcome))), min_size=1, max_size=40)


def test_a_withdrawn_case_is_never_reached_and_a_censored_one_may_yet_be() -> None:
    minutes = [5.0, 6.0, 10.0, 20.0]
    censored = incidence(minutes, [REACHED, WAITING, REACHED, REACHED])
    withdrawn = incidence(minutes, [REACHED, OTHERWISE, REACHED, REACHED])
    assert censored.unreached == pytest.approx((3 / 4, 3 / 8, 0))
    assert withdrawn.unreached == pytest.approx((3 / 4, 2 / 4, 1 / 4))
    assert percentile(censored, 0.9).minutes == 20
    assert percentile(withdrawn, 0.9).minutes is None


def test_cases_still_open_are_not_dropped() -> None:
    """Leaving them out would make the median 6."""
    curve = kaplan_meier([5, 6, 7, 30, 40, 50], [1, 1, 1, 0, 0, 0])
    assert percentile(curve, 0.5).minutes == 7
    assert str(percentile(curve, 0.9)) == "more than 50"


def test_what_is_said_of_a_percentile_stays_true_after_rounding() -> None:
    reached = percentile(kaplan_meier([8.2] * 10, [1] * 10), 0.9)
    unreached = percentile(kaplan_meier([35.8] * 10, [0] * 10), 0.9)
    assert (str(reached), str(unreached)) == ("9", "more than 35")


def test_where_there_are_no_cases_nothing_is_claimed() -> None:
    curve = kaplan_meier([], [])
    assert (curve.count, curve.longest, curve.at(10)) == (0, None, 1.0)
    assert str(percentile(curve, 0.5)) == "no cases"
    assert restricted_mean([], []) is None


def test_a_mean_beyond_the_longest_wait_is_not_known_while_some_still_wait() -> None:
    assert restricted_mean([5, 10], [1, 0], to=11) is None
    ended = restricted_mean([5, 10], [1, 1], to=60)
    assert ended is not None
    assert ended.minutes == pytest.approx(7.5)


def test_the_mean_of_waits_that_are_all_over_is_the_plain_mean() -> None:
    minutes = [1.0, 4.0, 4.0, 9.0, 30.0]
    mean = restricted_mean(minutes, [1] * 5)
    assert mean is not None
    assert mean.minutes == pytest.approx(np.mean(minutes))
    assert mean.standard_error == pytest.approx(np.std(minutes) / np.sqrt(5))
    shorter = restricted_mean(minutes, [1] * 5, to=5.0)
    assert shorter is not None
    assert shorter.minutes == pytest.approx(np.mean(np.minimum(minutes, 5)))


@pytest.mark.parametrize(
    ("durations", "outcomes"), [([1.0], [1, 0]), ([-1.0], [1]), ([float("nan")], [1]), ([[1.0]], [[1]])]
)
def test_what_is_no_wait_is_refused(durations: list[float], outcomes: list[int]) -> None:
    with pytest.raises(ValueError, match="duration"):
        incidence(durations, outcomes)


@given(waits)
def test_the_curve_is_what_counting_by_hand_gives(seen: list[tuple[int, Outcome]]) -> None:
    """Minute by minute, everybody followed: who still waits, who is reached of them."""
    curve = incidence([minutes for minutes, _ in seen], [outcome for _, outcome in seen])
    free, unreached = 1.0, 1.0
    for minute in range(41):
        at_risk = sum(minutes >= minute for minutes, _ in seen)
        reached = sum(each == (minute, REACHED) for each in seen)
        otherwise = sum(each == (minute, OTHERWISE) for each in seen)
        if at_risk:
            unreached -= free * reached / at_risk
            free *= 1 - (reached + otherwise) / at_risk
        assert curve.at(minute) == pytest.approx(unreached, abs=1e-12)


@given(waits)
def test_a_curve_only_falls_and_its_variance_is_none_where_nothing_is_left_to_chance(
    seen: list[tuple[int, Outcome]],
) -> None:
    curve = incidence([minutes for minutes, _ in seen], [outcome for _, outcome in seen])
    assert list(curve.unreached) == sorted(curve.unreached, reverse=True)
    assert all(0 <= share <= 1 for share in curve.unreached)
    assert all(0 <= variance <= 0.25 + 1e-9 for variance in curve.variance)
    if all(outcome is not WAITING for _, outcome in seen):
        shares = np.array(curve.unreached)
        assert curve.variance == pytest.approx(shares * (1 - shares) / len(seen), abs=1e-12)
