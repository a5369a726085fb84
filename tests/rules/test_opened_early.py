"""opened-early: polls declared open before the place's own hours, past the plan's tolerance."""

from datetime import timedelta

import pytest

from county.domain.cases import State
from county.domain.effects import Effect
from tests.builders import a_plan, a_step, after, before
from tests.looking import found_by, the_case

RULE = "opened-early"


def test_before_its_hours_raises_it() -> None:
    (finding,) = found_by(RULE, a_step("open", before(10)))
    assert finding.says == "opened 05:50, its hours begin 06:00"
    assert (finding.expected, finding.found) == ("06:00", "05:50")
    assert (finding.effect, finding.device, finding.since) == (Effect.STOPPED, "", before(10))


@pytest.mark.parametrize(("seconds", "raises"), [(0, False), (60, False), (61, True)])
def test_the_tolerance_is_the_plans_minute(seconds: int, raises: bool) -> None:
    assert bool(found_by(RULE, a_step("open", before(seconds / 60)))) is raises
    strict = a_plan(early_tolerance=timedelta(0))
    assert bool(found_by(RULE, a_step("open", before(seconds / 60)), plan=strict)) is (seconds > 0)


def test_the_hours_are_the_places_own() -> None:
    (finding,) = found_by(RULE, a_step("open", after(5), place="P016"), place="P016")
    assert finding.says == "opened 06:05, its hours begin 07:00"
    assert found_by(RULE, a_step("open", after(60), place="P016"), place="P016") == []


def test_in_time_or_late_does_not() -> None:
    assert found_by(RULE, a_step("open", after(0)), a_step("open", after(34)), a_step("closed", before(10))) == []


def test_another_day_is_named() -> None:
    (finding,) = found_by(RULE, a_step("open", after(1) - timedelta(days=1)))
    assert finding.says == "opened 2026-11-02 06:01, its hours begin 06:00"


def test_opening_again_in_time_does_not_clear_it() -> None:
    assert the_case("P014.opened-early", a_step("open", before(10)), a_step("open", after(0))).state is State.RAISED
