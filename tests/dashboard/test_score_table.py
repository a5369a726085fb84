"""How good the forecasts were, in words and figures, and said against came as points."""

import re

from county.domain.record.forecast_scores import CalibrationRow, ForecastScore
from dashboard.review.calibration_chart import drawn
from dashboard.review.score_table import by_lead, by_tenths, sentence

ROWS = (CalibrationRow(0.04, 0.1, 30), CalibrationRow(0.72, 0.75, 8))
GOOD = ForecastScore(30, 38, 9, 0.09, 0.18, 0.84, ROWS, 2, 1, 0)
BAD = ForecastScore(60, 20, 5, 0.21, 0.1875, 0.7, (), 28, 0, 3)
NONE = ForecastScore(15, 0, 0, None, None, None, (), 0, 0, 48)


def plain(markup: str) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", markup).split())


def test_the_score_is_said_beside_that_of_saying_the_days_share_of_every_place() -> None:
    assert sentence([BAD, GOOD], 30) == (
        "9 of 38 places opened late. 30 minutes before opening the forecasts score 0.090; "
        "saying the day's own share of every place, which nobody knew, 0.180. Lower is better."
    )
    assert sentence([BAD, GOOD], 60).endswith("Lower is better. Left out: 3 places not reported open yet.")


def test_where_there_is_nothing_to_hold_it_against_no_score_is_made_up() -> None:
    assert sentence([NONE], 15).startswith("Of no place is there a forecast from 15 minutes before its opening")
    assert sentence([], 30).startswith("Of no place is there a forecast")
    assert "15 min 0 0 0 0 48" in plain(by_lead([NONE]))


def test_each_time_before_the_opening_is_a_row_and_worse_is_called_worse() -> None:
    text = plain(by_lead([BAD, GOOD]))
    assert "60 min 20 5 0.210 0.188 worse by 12 % 70 % 28 0 3" in text
    assert "30 min 38 9 0.090 0.180 50 % 84 % 2 1 0" in text


def test_said_against_came_is_a_table_and_points_with_their_places_beside_them() -> None:
    assert plain(by_tenths(ROWS)).endswith("4 % 10 % 30 72 % 75 % 8")
    slanted, points, numbers = drawn(ROWS)["layer"]
    assert [(p["said"], p["came"]) for p in slanted["data"]["values"]] == [(0, 0), (1, 1)]
    assert [(p["said"], p["came"], p["places"]) for p in points["data"]["values"]] == [
        (0.04, 0.1, "30"),
        (0.72, 0.75, "8"),
    ]
    assert numbers["encoding"]["text"]["field"] == "places"
    few, many = sorted(p["size"] for p in points["data"]["values"])
    assert few < many
