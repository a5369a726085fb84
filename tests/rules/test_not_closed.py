"""not-closed: the place's closing time has passed by longer than the plan allows and it is not reported closed."""

from datetime import timedelta

from county.domain.cases import State
from tests.builders import CLOSES, STEPS, a_plan, a_step
from tests.looking import due_by, raised_of, the_case

RULE = "not-closed"
MINUTE = timedelta(minutes=1)


def test_an_hour_after_closing_it_is_said() -> None:
    assert due_by(RULE, CLOSES + 59 * MINUTE) == []
    (due,) = due_by(RULE, CLOSES + 60 * MINUTE)
    assert (due.since, due.cause, due.says) == (CLOSES + 60 * MINUTE, "closed", "not reported closed")


def test_the_closing_time_is_the_places_own_and_the_wait_the_plans() -> None:
    assert due_by(RULE, CLOSES + 119 * MINUTE, place="P016") == []
    assert len(due_by(RULE, CLOSES + 120 * MINUTE, place="P016")) == 1
    assert len(due_by(RULE, CLOSES + 5 * MINUTE, plan=a_plan(not_closed_after=5 * MINUTE))) == 1


def test_a_place_that_closed_is_closed() -> None:
    assert due_by(RULE, CLOSES + 90 * MINUTE, a_step("closed", CLOSES + 20 * MINUTE)) == []


def test_a_plan_without_that_step_waits_for_nobody() -> None:
    plan = a_plan(tuple(step for step in STEPS if step.key != "closed"))
    assert due_by(RULE, CLOSES + 90 * MINUTE, plan=plan) == []


def test_the_closing_clears_it() -> None:
    entry = raised_of(RULE, due_by(RULE, CLOSES + 60 * MINUTE)[0])
    assert the_case("P014.not-closed", entry).state is State.RAISED
    case = the_case("P014.not-closed", entry, a_step("closed", CLOSES + 70 * MINUTE))
    assert (case.state, case.cleared_at) == (State.CLEARED, CLOSES + 70 * MINUTE)
