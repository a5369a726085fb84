"""closed-early: polls declared closed before the place's own hours end, past the plan's tolerance."""

from datetime import timedelta

import pytest

from county.domain.effects import Effect
from tests.builders import CLOSES, a_step
from tests.looking import found_by

RULE = "closed-early"


def test_before_its_hours_end_raises_it() -> None:
    (finding,) = found_by(RULE, a_step("closed", CLOSES - timedelta(minutes=12)))
    assert finding.says == "closed 18:48, its hours end 19:00"
    assert (finding.expected, finding.found) == ("19:00", "18:48")
    assert (finding.effect, finding.device) == (Effect.RECORD, "")


@pytest.mark.parametrize(("seconds", "raises"), [(-1, False), (0, False), (60, False), (61, True)])
def test_the_tolerance_is_the_plans_minute(seconds: int, raises: bool) -> None:
    assert bool(found_by(RULE, a_step("closed", CLOSES - timedelta(seconds=seconds)))) is raises


def test_the_hours_are_the_places_own() -> None:
    (finding,) = found_by(RULE, a_step("closed", CLOSES, place="P016"), place="P016")
    assert finding.says == "closed 19:00, its hours end 20:00"


def test_only_a_closing_can_be_early() -> None:
    assert found_by(RULE, a_step("results-printed", CLOSES - timedelta(hours=3), device="SC-0141")) == []
