"""silent: nothing heard for as long as the plan allows, from the first step's due time until the place has closed."""

from datetime import datetime, timedelta

import pytest

from county.domain.cases import State
from tests.builders import CLOSES, a_note, a_plan, a_step, after, an_action, before, raised
from tests.looking import due_by, raised_of, the_case

RULE = "silent"
FIRST_DUE = before(45)


def test_a_place_never_heard_from_is_silent_half_an_hour_after_its_first_step_was_due() -> None:
    assert due_by(RULE, before(15.1)) == []
    (due,) = due_by(RULE, before(15))
    assert (due.since, due.cause, due.says) == (before(15), "20261103T111500Z", "not heard from at all")


def test_before_opening_half_an_hour_of_silence_is_too_long() -> None:
    note = a_note(before(40), received_at=before(40))
    assert due_by(RULE, before(10.1), note) == []
    (due,) = due_by(RULE, before(10), note)
    assert (due.since, due.says) == (before(10), "nothing heard for 30 min")


def test_once_open_an_hour_and_a_quarter_is() -> None:
    opened = a_step("open", after(0), received_at=after(0))
    assert due_by(RULE, after(74.9), opened) == []
    (due,) = due_by(RULE, after(75), opened)
    assert (due.since, due.says) == (after(75), "nothing heard for 75 min")


def test_the_plan_says_how_long() -> None:
    plan = a_plan(silent_after=timedelta(minutes=10), silent_after_before_opening=timedelta(minutes=5))
    assert due_by(RULE, before(40), plan=plan)[0].since == before(40)
    assert due_by(RULE, after(10), a_step("open", after(0), received_at=after(0)), plan=plan)[0].since == after(10)


def test_what_was_heard_long_before_the_first_step_is_due_does_not_make_it_silent_sooner() -> None:
    night = a_note(before(hours=8), received_at=before(hours=8))
    assert due_by(RULE, before(20), night) == []
    assert due_by(RULE, before(15), night)[0].since == before(15)


def test_it_is_the_time_of_receipt_that_counts() -> None:
    late = a_note(before(60), received_at=before(20))
    assert due_by(RULE, before(10), late) == []


def test_what_the_office_writes_itself_is_not_the_place_speaking() -> None:
    own = [raised("step-overdue", "staffed", before(40)), an_action("P014.step-overdue", "note", before(12))]
    assert len(due_by(RULE, before(10), *own)) == 1


@pytest.mark.parametrize("step", ["closed", "received"])
def test_a_place_that_has_closed_may_be_silent(step: str) -> None:
    assert due_by(RULE, CLOSES + timedelta(hours=6), a_step(step, CLOSES)) == []


def test_each_silence_is_one_fact_of_its_own() -> None:
    def cause(*heard: datetime) -> str:
        return due_by(RULE, after(hours=9), *(a_note(at, received_at=at) for at in heard))[0].cause

    assert cause(before(40)) == cause(before(42), before(40)) != cause(before(40), after(0))


def test_hearing_from_it_again_clears_it() -> None:
    silence = raised_of(RULE, due_by(RULE, before(15))[0])
    assert the_case("P014.silent", silence).state is State.RAISED
    case = the_case("P014.silent", silence, a_note(before(9), received_at=before(8)))
    assert (case.state, case.cleared_at) == (State.CLEARED, before(8))
    assert case.cleared_says == "the facts: the place was heard from again"


def test_what_had_been_heard_before_does_not_clear_it() -> None:
    heard = a_note(before(40), received_at=before(40))
    silence = raised_of(RULE, due_by(RULE, before(10), heard)[0])
    assert the_case("P014.silent", heard, silence).state is State.RAISED


def test_silent_again_is_another_case() -> None:
    first = raised_of(RULE, due_by(RULE, before(15))[0])
    heard = a_note(before(9), received_at=before(8))
    second = raised_of(RULE, due_by(RULE, after(22), first, heard)[0])
    case = the_case("P014.silent.2", first, heard, second)
    assert (case.state, case.raised_at) == (State.RAISED, after(22))
