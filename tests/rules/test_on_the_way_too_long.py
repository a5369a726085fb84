"""on-the-way-too-long: it left longer ago than the plan allows and is not at the office."""

from datetime import timedelta

from county.domain.cases import State
from tests.builders import CLOSES, a_step
from tests.custody import a_plan_with_items
from tests.looking import due_by, raised_of, the_case

RULE = "on-the-way-too-long"
HOUR = timedelta(hours=1)
LEFT = CLOSES + HOUR
PLAN = a_plan_with_items()


def test_after_the_limit_it_is_said_from_then_on() -> None:
    left = a_step("departed", LEFT)
    assert due_by(RULE, LEFT + HOUR - timedelta(seconds=1), left, plan=PLAN) == []
    (due,) = due_by(RULE, LEFT + HOUR, left, plan=PLAN)
    assert (due.since, due.says) == (LEFT + HOUR, "left and not received for 60 min")


def test_neither_before_it_left_nor_after_it_was_received() -> None:
    assert due_by(RULE, LEFT + 9 * HOUR, plan=PLAN) == []
    both = a_step("departed", LEFT), a_step("received", LEFT + HOUR / 2)
    assert due_by(RULE, LEFT + 9 * HOUR, *both, plan=PLAN) == []


def test_a_plan_without_a_limit_waits() -> None:
    plan = a_plan_with_items(on_the_way=timedelta(0))
    assert due_by(RULE, LEFT + 9 * HOUR, a_step("departed", LEFT), plan=plan) == []


def test_with_the_receiving_it_is_one_case_and_a_person_ends_it() -> None:
    left = a_step("departed", LEFT)
    entry = raised_of(RULE, due_by(RULE, LEFT + HOUR, left, plan=PLAN)[0], effect="stopped")
    case = the_case("P014.custody-gap", left, entry, a_step("received", LEFT + 2 * HOUR), plan=PLAN)
    assert (case.state, len(case.reports), case.raised_at) == (State.RAISED, 2, LEFT + HOUR)
