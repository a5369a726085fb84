"""VVSG 2.0 1.1.3-B: no voting until a device's counters are zeroed; RCW 29A.44.310(4): the record is signed."""

import pytest

from county.domain.cases import State
from county.domain.standing import Standing
from tests.builders import a_count, a_full_opening, a_step, an_action, before
from tests.looking import a_picture, found_by

CASE = "P015.nonzero-start-count.SC-0151"


@pytest.mark.parametrize("counter", [1, 2, 10, 999_999_999])
def test_a_device_whose_public_counter_is_not_zero_may_not_be_voted_on(counter: int) -> None:
    opening = [entry for entry in a_full_opening("P015") if entry.text("step") != "zero-report"]
    start = a_step("zero-report", before(16), place="P015", device="SC-0151", public_counter=counter)
    picture = a_picture(*opening[:-1], start)
    assert picture.at("P015", before(5)).standing is Standing.PREPARING, "it is not ready"
    picture.add(opening)
    assert picture.at("P015", before(-5)).standing is Standing.STOPPED, "opened all the same, nobody can vote there"


def test_a_zeroed_device_may() -> None:
    picture = a_picture(*a_full_opening("P015"))
    assert picture.case(CASE) is None
    assert picture.at("P015", before(-5)).standing is Standing.OPEN


def test_only_a_person_puts_the_device_back_into_use() -> None:
    start = a_step("zero-report", before(16), place="P015", device="SC-0151", public_counter=3)
    reset = a_step("zero-report", before(6), place="P015", device="SC-0151", public_counter=0)
    case = a_picture(start, reset).case(CASE)
    assert case is not None
    assert case.state is State.RAISED
    case = a_picture(start, reset, an_action(CASE, "clear", before(4))).case(CASE)
    assert case is not None
    assert case.state is State.CLEARED


def test_ballots_counted_during_the_day_are_no_start_count() -> None:
    assert found_by("nonzero-start-count", a_count(device="SC-0141", public_counter=412)) == []


def test_a_zero_report_that_nobody_else_signed_is_short() -> None:
    one = a_step("zero-report", before(16), device="SC-0141", public_counter=0, copies=3, signers=1)
    assert [finding.found for finding in found_by("zero-report-short", one)] == ["1 of 2 signers"]
