"""late-opening: the place's own opening time, and the plan's grace, have passed and it is not reported open."""

from datetime import datetime, timedelta

import pytest

from county.domain.cases import State
from tests.builders import OPENS, a_plan, a_step, a_withdrawal, after, before
from tests.looking import due_by, raised_of, the_case

RULE = "late-opening"


def test_at_its_opening_time_it_is_late_and_not_a_second_before() -> None:
    assert due_by(RULE, before(1 / 60)) == []
    (due,) = due_by(RULE, OPENS)
    assert (due.since, due.cause, due.says) == (OPENS, "open", "not reported open at its opening time")


@pytest.mark.parametrize("hours", [1, 13, 30])
def test_it_stays_true_since_the_opening_time(hours: int) -> None:
    assert due_by(RULE, after(hours=hours))[0].since == OPENS


def test_the_opening_time_is_the_places_own() -> None:
    assert due_by(RULE, after(59), place="P016") == []
    assert due_by(RULE, after(60), place="P016")[0].since == after(60)


def test_the_plans_grace_for_reporting_is_waited_for_but_it_is_late_since_the_opening_time() -> None:
    plan = a_plan(late_grace=timedelta(minutes=5))
    assert due_by(RULE, after(4.99), plan=plan) == []
    assert due_by(RULE, after(5), plan=plan)[0].since == OPENS


@pytest.mark.parametrize("opened_at", [before(30), after(0), after(17)])
def test_a_place_that_is_open_is_not_late(opened_at: datetime) -> None:
    assert due_by(RULE, after(20), a_step("open", opened_at)) == []


def test_an_opening_withdrawn_or_of_another_day_is_none() -> None:
    opened = a_step("open", after(0))
    assert len(due_by(RULE, after(20), opened, a_withdrawal(opened))) == 1
    assert len(due_by(RULE, after(20), a_step("open", after(0) - timedelta(days=7)))) == 1


def test_the_opening_clears_it() -> None:
    late = raised_of(RULE, due_by(RULE, OPENS)[0], effect="stopped")
    assert the_case("P014.late-opening", late).state is State.RAISED
    case = the_case("P014.late-opening", late, a_step("open", after(17)))
    assert (case.state, case.cleared_at, case.cleared_says) == (State.CLEARED, after(17), "the facts: the place opened")
