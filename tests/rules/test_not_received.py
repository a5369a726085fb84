"""not-received: the cut-off has passed and the place's material is not received at the office."""

from datetime import timedelta

from county.domain.cases import State
from county.domain.effects import Effect
from county.domain.exception_kinds import EXCEPTION_KINDS
from tests.builders import CLOSES, STEPS, a_plan, a_step
from tests.looking import due_by, raised_of, the_case

RULE = "not-received"
HOUR = timedelta(hours=1)


def test_four_hours_after_closing_it_is_said() -> None:
    assert due_by(RULE, CLOSES + 3.99 * HOUR) == []
    (due,) = due_by(RULE, CLOSES + 4 * HOUR)
    assert (due.since, due.cause) == (CLOSES + 4 * HOUR, "received")
    assert due.says == "not received at the office by the cut-off"
    assert EXCEPTION_KINDS["not-received"].effect is Effect.STOPPED


def test_the_cut_off_is_the_plans_and_counts_from_the_places_own_closing() -> None:
    assert len(due_by(RULE, CLOSES + HOUR, plan=a_plan(not_received_after=HOUR))) == 1
    assert due_by(RULE, CLOSES + HOUR, plan=a_plan(not_received_after=HOUR), place="P016") == []


def test_material_received_is_received() -> None:
    assert due_by(RULE, CLOSES + 5 * HOUR, a_step("received", CLOSES + 2 * HOUR)) == []


def test_a_plan_without_that_step_waits_for_nobody() -> None:
    plan = a_plan(tuple(step for step in STEPS if step.key != "received"))
    assert due_by(RULE, CLOSES + 5 * HOUR, plan=plan) == []


def test_receiving_clears_it() -> None:
    entry = raised_of(RULE, due_by(RULE, CLOSES + 4 * HOUR)[0], effect="stopped")
    assert the_case("P014.not-received", entry, a_step("closed", CLOSES)).state is State.RAISED
    case = the_case("P014.not-received", entry, a_step("received", CLOSES + 5 * HOUR))
    assert (case.state, case.cleared_at) == (State.CLEARED, CLOSES + 5 * HOUR)
