"""message-unseen: a message from the office that the place has not acknowledged for as long as the plan allows."""

from datetime import timedelta

import pytest

from county.domain.cases import State
from tests.builders import a_message, a_plan, a_seen, a_step, a_withdrawal, after, before
from tests.looking import due_by, raised_of, the_case

RULE = "message-unseen"


def test_ten_minutes_after_it_was_sent() -> None:
    sent = a_message(after(30))
    assert due_by(RULE, after(39.9), sent) == []
    (due,) = due_by(RULE, after(40), sent)
    assert (due.since, due.cause) == (after(40), "m-1")
    assert due.says == "not acknowledged for 10 min: Polls stay open until 19:30."


def test_a_long_message_is_only_begun() -> None:
    (due,) = due_by(RULE, after(40), a_message(after(30), "court\norder " * 100))
    assert due.says.endswith("...")
    assert len(due.says) < 130
    assert "\n" not in due.says


def test_the_plan_says_how_long() -> None:
    (due,) = due_by(RULE, after(2), a_message(after(0)), plan=a_plan(message_unseen_after=timedelta(minutes=2)))
    assert due.since == after(2)


def test_before_the_first_step_is_due_nobody_is_there_to_read_it() -> None:
    sent = a_message(before(hours=3))
    assert due_by(RULE, before(35.1), sent) == []
    assert due_by(RULE, before(35), sent)[0].since == before(35)


def test_an_acknowledged_message_raises_nothing_and_another_one_does() -> None:
    told = [a_message(after(30)), a_seen(after(33)), a_message(after(31), message="m-2")]
    assert [due.cause for due in due_by(RULE, after(60), *told)] == ["m-2"]


@pytest.mark.parametrize("message", ["m-2", "M-1", "m-1.1"])
def test_acknowledging_another_message_changes_nothing(message: str) -> None:
    assert len(due_by(RULE, after(60), a_message(after(30)), a_seen(after(33), message))) == 1


def test_acknowledging_it_late_ends_the_case_at_that_moment() -> None:
    sent = a_message(after(30))
    noticed = raised_of(RULE, due_by(RULE, after(40), sent)[0])
    assert the_case("P014.message-unseen", sent, noticed).state is State.RAISED
    case = the_case("P014.message-unseen", sent, noticed, a_seen(after(52)))
    assert (case.state, case.cleared_at) == (State.CLEARED, after(52))
    assert case.cleared_says == "the facts: the place acknowledged it"


def test_an_acknowledgement_that_was_in_the_post_had_happened_before() -> None:
    sent = a_message(after(30))
    noticed = raised_of(RULE, due_by(RULE, after(40), sent)[0])
    case = the_case("P014.message-unseen", sent, noticed, a_seen(after(34), received_at=after(55)))
    assert (case.state, case.cleared_at) == (State.CLEARED, after(40))


def test_two_messages_are_one_case_until_both_are_acknowledged() -> None:
    sent = [a_message(after(30)), a_message(after(31), message="m-2")]
    noticed = [raised_of(RULE, due) for due in due_by(RULE, after(60), *sent)]
    one = the_case("P014.message-unseen", *sent, *noticed, a_seen(after(70)))
    assert one.state is State.RAISED
    both = the_case("P014.message-unseen", *sent, *noticed, a_seen(after(70)), a_seen(after(71), "m-2"))
    assert (both.state, both.cleared_at) == (State.CLEARED, after(71))


def test_an_acknowledgement_taken_back_is_none() -> None:
    told = [a_message(after(30)), seen := a_seen(after(33)), a_withdrawal(seen, after(36))]
    assert [due.cause for due in due_by(RULE, after(60), *told)] == ["m-1"]


def test_once_the_material_is_at_the_office_nobody_needs_to_acknowledge_any_more() -> None:
    sent = a_message(after(hours=14))
    noticed = raised_of(RULE, due_by(RULE, after(hours=15), sent)[0])
    received = a_step("received", after(hours=16))
    assert due_by(RULE, after(hours=17), sent, received) == []
    assert the_case("P014.message-unseen", sent, noticed, received).cleared_at == after(hours=16)
