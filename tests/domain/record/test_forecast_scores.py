"""The scores of a day's forecasts, worked by hand, and who is left out of them and why."""

from datetime import datetime, timedelta

import pytest

from county.domain.entries import Entry
from county.domain.openings import forecast_openings
from county.domain.picture import Picture, known
from county.domain.record.forecast_scores import ForecastScore, forecast_scores
from county.domain.replay import Replay
from county.domain.step_paces import paces_of
from tests.builders import OPENS, a_full_opening, a_plan, a_roster, a_step, after, before

PLAN = a_plan()
PACES = paces_of((), PLAN)
LATE = a_full_opening("P014", after(14))
NOON = after(hours=6)
IN_TIME = a_full_opening("P015")


def scored(*entries: Entry, now: datetime = NOON, leads: tuple[int, ...] = (20,)) -> ForecastScore:
    return forecast_scores(Replay(a_roster(), PLAN, entries), PACES, now, leads)[0]


def said(at: datetime, *entries: Entry) -> dict[str, float]:
    """The chances by what was known at a moment."""
    states = Picture.of(a_roster(), PLAN, known(entries, at)).places.values()
    return {place: each.chance_late for place, each in forecast_openings(states, PACES, PLAN, at).items()}


def test_the_score_is_the_mean_square_of_chance_less_outcome() -> None:
    chances = said(before(20), *LATE, *IN_TIME)
    assert chances.keys() == {"P014", "P015"}
    score = scored(*LATE, *IN_TIME)
    assert (score.places, score.late, score.unheard) == (2, 1, 1)
    assert score.brier == pytest.approx(((1 - chances["P014"]) ** 2 + chances["P015"] ** 2) / 2)
    assert score.base_brier == pytest.approx(0.25)
    assert score.skill == pytest.approx(1 - (score.brier or 0) / 0.25)


def test_it_goes_by_what_was_known_then_and_not_by_what_was_learned_later() -> None:
    late_told = [
        a_step(e.text("step"), e.happened_at, place="P015", device=e.device, received_at=before(19.5))
        for e in IN_TIME[1:-1]
    ]
    score = scored(IN_TIME[0], *late_told, IN_TIME[-1])
    assert score.brier == pytest.approx(said(before(20), IN_TIME[0])["P015"] ** 2)


def test_each_place_is_looked_at_before_its_own_opening() -> None:
    score = scored(*a_full_opening("P016", after(60)))
    at_seven = said(after(40), *a_full_opening("P016", after(60)))
    assert score.places == 1
    assert score.brier == pytest.approx(at_seven["P016"] ** 2)


def test_within_the_grace_is_in_time_and_the_band_holds() -> None:
    plan = a_plan(late_grace=timedelta(minutes=5))
    opened = (*IN_TIME[:-1], a_step("open", after(3), place="P015"))
    replay = Replay(a_roster(), plan, opened)
    (score,) = forecast_scores(replay, PACES, after(60), (10,))
    assert (score.late, score.places) == (0, 1)
    (strict,) = forecast_scores(Replay(a_roster(), PLAN, opened), PACES, after(60), (10,))
    assert strict.late == 1
    assert scored(*IN_TIME, leads=(10,)).band_held == 1.0


def test_unheard_open_already_and_not_yet_open_are_told_apart() -> None:
    early = a_step("open", before(25), place="P014")
    begun = a_step("staffed", before(50), place="P015")
    score = scored(early, begun)
    assert (score.places, score.open_already, score.unheard, score.unsettled) == (0, 1, 1, 1)
    assert (score.brier, score.base_brier, score.skill, score.band_held) == (None, None, None, None)


def test_a_moment_that_has_not_come_is_not_scored() -> None:
    score = scored(*LATE[:3], now=before(30))
    assert (score.places, score.unheard, score.open_already, score.unsettled) == (0, 0, 0, 0)


def test_what_was_said_is_held_against_what_came_by_tenths() -> None:
    score = scored(*LATE, *IN_TIME)
    chances = sorted(said(OPENS - timedelta(minutes=20), *LATE, *IN_TIME).values())
    assert [row.said for row in score.calibration] == pytest.approx(chances)
    assert [row.came for row in score.calibration] == [0, 1]
    assert [row.places for row in score.calibration] == [1, 1]
