"""item-missing: the office went through what came back and something is not there."""

from dataclasses import replace
from datetime import timedelta

from county.domain.cases import State
from county.domain.effects import Effect
from county.domain.entries import Entry
from county.domain.findings import Finding
from county.domain.plan import Plan
from tests.builders import CLOSES, a_correction, a_step
from tests.custody import EVERYTHING, a_plan_with_items, all_but
from tests.looking import found_by, the_case

RULE = "item-missing"
HOUR = timedelta(hours=1)
LEFT, BACK = CLOSES + HOUR, CLOSES + 2 * HOUR


def found(*entries: Entry, plan: Plan | None = None) -> list[Finding]:
    return found_by(RULE, *entries, plan=plan or a_plan_with_items())


def test_an_item_that_left_and_is_not_there_raises_it() -> None:
    left = a_step("departed", LEFT, items=EVERYTHING)
    (finding,) = found(left, a_step("received", BACK, items=all_but("used-ballots")))
    assert finding.says == "not there when received: Used ballots"
    assert (finding.effect, finding.device, finding.since) == (Effect.STOPPED, "", BACK)
    assert (finding.expected, finding.found) == ("left the place", "not there")


def test_a_devices_item_is_a_case_of_that_device() -> None:
    (finding,) = found(a_step("received", BACK, items=all_but("memory:SC-0142")))
    assert finding.says == "not there when received: Memory device, SC-0142"
    assert (finding.device, finding.expected) == ("SC-0142", "on the county's list")


def test_everything_there_raises_nothing_and_a_key_alone_means_every_device() -> None:
    assert found(a_step("received", BACK, items=EVERYTHING)) == []
    assert found(a_step("received", BACK, items=("memory", *all_but("memory")))) == []


def test_what_need_not_be_is_missing_only_where_it_was_told_to_have_left() -> None:
    back = a_step("received", BACK, items=all_but("provisional"))
    assert found(back) == []
    assert found(a_step("departed", LEFT, items=all_but("provisional")), back) == []
    assert len(found(a_step("departed", LEFT, items=EVERYTHING), back)) == 1


def test_where_nobody_went_through_the_items_nothing_is_known() -> None:
    assert found(a_step("departed", LEFT, items=EVERYTHING), a_step("received", BACK)) == []


def test_told_not_to_be_there_is_not_there_also_where_nothing_else_is_told() -> None:
    (finding,) = found(a_step("received", BACK, items_missing=("provisional",), items=all_but("provisional")))
    assert "Provisional" in finding.says
    (only,) = found(a_step("received", BACK, items_missing=("keys",)))
    assert only.says == "not there when received: Keys"


def test_what_comes_later_is_not_missed_again_and_a_person_ends_the_case() -> None:
    first = a_step("received", BACK, items=all_but("keys"))
    later = a_step("received", BACK + HOUR, items=("keys",))
    assert [finding.since for finding in found(first, later)] == [BACK]
    case = the_case("P014.item-missing", first, later, plan=a_plan_with_items())
    assert case.state is State.RAISED
    assert case.needs_person


def test_it_was_known_when_both_ends_were() -> None:
    late = a_step("departed", LEFT, items=EVERYTHING, received_at=BACK + HOUR)
    (finding,) = found(late, a_step("received", BACK, items=all_but("used-ballots")))
    assert finding.learned_at == BACK + HOUR


def test_a_correction_of_the_receiving_takes_nothing_off_the_board() -> None:
    back = a_step("received", BACK, items=all_but("keys"))
    case = the_case("P014.item-missing", back, a_correction(back, items=EVERYTHING), plan=a_plan_with_items())
    assert case.state is State.RAISED


def test_a_plan_without_items_misses_none() -> None:
    plan = replace(a_plan_with_items(), items=())
    assert found(a_step("received", BACK, items=("keys",)), plan=plan) == []


def test_what_was_told_at_a_training_is_no_receiving() -> None:
    assert found(a_step("received", CLOSES - 48 * HOUR, items=("keys",))) == []
