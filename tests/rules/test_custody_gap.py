"""custody-gap: nobody told that it left, it was too long on the way, or one person had it alone."""

from datetime import timedelta

import pytest

from county.domain.effects import Effect
from county.domain.entries import Entry
from county.domain.findings import Finding
from county.domain.plan import Plan
from tests.builders import CLOSES, a_plan, a_step
from tests.custody import a_plan_with_items
from tests.looking import found_by

RULE = "custody-gap"
HOUR, MINUTE = timedelta(hours=1), timedelta(minutes=1)
LEFT = CLOSES + HOUR


def found(*entries: Entry, plan: Plan | None = None) -> list[Finding]:
    return found_by(RULE, *entries, plan=plan or a_plan_with_items())


def test_received_without_having_left_raises_it() -> None:
    (finding,) = found(a_step("received", LEFT))
    assert finding.says == "received, but nobody told when it left and with whom"
    assert (finding.effect, finding.since, finding.device) == (Effect.STOPPED, LEFT, "")


def test_left_and_received_within_the_limit_raises_nothing() -> None:
    assert found(a_step("departed", LEFT), a_step("received", LEFT + HOUR)) == []


def test_a_minute_more_raises_it_from_when_the_limit_was_over() -> None:
    (finding,) = found(a_step("departed", LEFT), a_step("received", LEFT + HOUR + MINUTE))
    assert finding.says == "on the way for 61 min"
    assert (finding.expected, finding.found, finding.since) == ("at most 60 min", "61 min", LEFT + HOUR)


def test_a_plan_without_a_limit_or_without_that_step_asks_for_neither() -> None:
    no_limit = a_plan_with_items(on_the_way=timedelta(0))
    assert found(a_step("departed", LEFT), a_step("received", LEFT + 9 * HOUR), plan=no_limit) == []
    assert found(a_step("received", LEFT), plan=a_plan()) == []


def test_what_left_after_it_was_received_did_not_leave_before() -> None:
    (finding,) = found(a_step("received", LEFT), a_step("departed", LEFT + MINUTE))
    assert finding.since == LEFT


@pytest.mark.parametrize("step", ["departed", "received"])
def test_one_person_alone_raises_it_and_two_do_not(step: str) -> None:
    other = [a_step("departed", LEFT - MINUTE)] if step == "received" else []
    (finding,) = found(*other, a_step(step, LEFT, roles=("receiving clerk",)))
    assert "one person alone: receiving clerk" in finding.says
    assert found(*other, a_step(step, LEFT, roles=("receiving clerk", "receiving clerk"))) == []


def test_only_the_first_receiving_is_asked_where_it_came_from() -> None:
    assert len(found(a_step("received", LEFT), a_step("received", LEFT + HOUR))) == 1


def test_a_training_two_days_before_is_no_leaving() -> None:
    (finding,) = found(a_step("departed", LEFT - 48 * HOUR), a_step("received", LEFT))
    assert "nobody told" in finding.says
