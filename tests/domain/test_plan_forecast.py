"""What a county says of forecasts is read from its plan, or refused by key and line."""

from datetime import timedelta

import pytest

from county.domain.forecast_limits import ForecastLimits
from county.domain.plan_file import parse_plan
from county.errors import BadPlan
from tests.domain.test_plan_file import SMALL

LINES = SMALL.count("\n")


def test_a_plan_that_says_nothing_means_what_is_usual() -> None:
    assert parse_plan(SMALL, "plan.toml").forecast == ForecastLimits(0.6, timedelta(minutes=60))


def test_every_key_is_read() -> None:
    plan = parse_plan(SMALL + '\n[forecast]\nchance = 0.7\nahead = "40m"\n', "plan.toml")
    assert plan.forecast == ForecastLimits(0.7, timedelta(minutes=40))


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ("[forecast]\nchance = 0.05", "chance 0.05 is not a number from 0.1 to 1"),
        ("[forecast]\nchance = 1.5", "chance 1.5 is not a number from 0.1 to 1"),
        ("[forecast]\nahead = 40", "ahead 40 is not a length of time like 45m"),
        ("[forecast]\nchanse = 0.5", 'forecast: unknown name "chanse"'),
    ],
)
def test_a_fault_is_said_with_its_key_and_line(more: str, says: str) -> None:
    with pytest.raises(BadPlan) as refused:
        parse_plan(SMALL + more, "plan.toml")
    assert str(refused.value).startswith(f"plan.toml, line {LINES + 2}: ")
    assert says in str(refused.value)
