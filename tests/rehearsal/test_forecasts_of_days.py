"""Forecasts of made-up mornings, learned from another: better than the day's own share, which nobody knew."""

from functools import cache

import pytest

from county.domain.record.forecast_scores import ForecastScore
from tests.rehearsal.forecast_days import PLACES, earlier_morning, scores


@cache
def of(regime: str) -> dict[int, ForecastScore]:
    return scores(regime, 5, earlier_morning())


@pytest.mark.parametrize(
    ("regime", "lead"),
    [
        *[("rough", 45), ("rough", 30), ("rough", 15), ("rough", 5)],
        # what a delivery route holds up from 40 minutes before opening on, nobody can know at 45
        *[("common-cause", 30), ("common-cause", 15), ("common-cause", 5)],
    ],
)
def test_the_score_is_better_than_the_days_own_share(regime: str, lead: int) -> None:
    score = of(regime)[lead]
    assert score.brier is not None
    assert score.base_brier is not None
    assert score.brier < score.base_brier
    assert score.skill is not None
    assert score.skill > 0


@pytest.mark.parametrize("regime", ["rough", "common-cause"])
def test_the_nearer_the_opening_the_surer(regime: str) -> None:
    briers = [of(regime)[lead].brier for lead in (45, 30, 15)]
    assert briers == sorted(briers, key=lambda each: -(each or 0))


@pytest.mark.parametrize("regime", ["normal", "rough", "common-cause"])
@pytest.mark.parametrize("lead", [30, 15])
def test_most_openings_lie_within_the_band_of_80_per_cent(regime: str, lead: int) -> None:
    held = of(regime)[lead].band_held
    assert held is not None
    assert held > 0.8


@pytest.mark.parametrize("regime", ["rough", "common-cause"])
def test_of_places_nearly_certain_to_be_late_most_are_and_of_those_on_course_hardly_any(regime: str) -> None:
    rows = of(regime)[15].calibration
    assert rows[0].said < 0.1
    assert rows[0].came < 0.05
    assert rows[-1].said > 0.9
    assert rows[-1].came > 0.75


def test_on_an_ordinary_morning_hardly_any_place_is_thought_late_in_vain() -> None:
    # one place in a hundred is late then: saying so of all of them, in hindsight, is a score that no forecast beats
    for lead in (45, 30, 15, 5):
        score = of("normal")[lead]
        assert score.brier is not None
        assert score.brier < 0.03
        rows = [row for row in score.calibration if row.said >= 0.5]
        assert sum(row.places * (1 - row.came) for row in rows) <= 0.03 * score.places


def test_what_comes_too_early_to_be_known_is_not_pretended_to_be() -> None:
    score = of("common-cause")[45]
    assert max(row.said for row in score.calibration) < 0.5


@pytest.mark.parametrize("regime", ["normal", "rough", "common-cause"])
def test_every_place_is_scored_or_left_out_for_a_reason(regime: str) -> None:
    for score in of(regime).values():
        assert score.places + score.unheard + score.open_already + score.unsettled == PLACES
        assert sum(row.places for row in score.calibration) == score.places
    assert of(regime)[60].unheard > 0.9 * PLACES
