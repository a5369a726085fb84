"""Seals and protective counters as the law asks: compared with what final testing recorded, before the polls open."""

import pytest

from county.domain.cases import State
from tests.builders import a_correction, a_step, an_action, before
from tests.looking import found_by, the_case, the_day

SEAL = "P014.seal-mismatch.SC-0141"
FOUND_WRONG = a_step("seals-checked", before(30), device="SC-0141", seal_position="front", seal_number="A1OO")


# RCW 29A.44.310, A.R.S. 16-561, VVSG 2.0 12.1-A and 12.1-E: the seals found before the polls open are whole, and their
# numbers are those recorded at final (logic and accuracy) testing.


def test_the_number_found_is_compared_with_the_number_recorded() -> None:
    assert [finding.expected for finding in found_by("seal-mismatch", FOUND_WRONG)] == ["A100"]
    same = a_step("seals-checked", before(30), device="SC-0141", seal_position="front", seal_number="A100")
    assert found_by("seal-mismatch", same) == []


def test_a_seal_that_is_not_intact_is_said_even_where_its_number_is_right() -> None:
    torn = a_step("seals-checked", device="SC-0141", seal_position="front", seal_number="A100", seal_intact=False)
    assert found_by("seal-mismatch", torn) == []
    assert len(found_by("seal-broken", torn)) == 1


def test_the_check_is_not_done_before_every_seal_was_looked_at() -> None:
    one = a_step("seals-checked", before(30), device="SC-0141", seal_position="front", seal_number="A100")
    assert ("seals-checked", "SC-0141") not in the_day(one).device_done


def test_a_mismatch_is_settled_by_a_person_and_by_nothing_that_is_typed_later() -> None:
    right = a_correction(FOUND_WRONG, before(20), seal_number="A100")
    assert the_case(SEAL, FOUND_WRONG, right).state is State.RAISED
    assert the_case(SEAL, FOUND_WRONG, right, an_action(SEAL, "clear", before(10))).state is State.CLEARED


# VVSG 2.0 1.1.2-H: tests raise the protective counter, so it is compared with the number recorded at final testing, and
# zero is as wrong as any other number.


@pytest.mark.parametrize(("counter", "raises"), [(48_210, False), (0, True), (48_209, True), (48_211, True)])
def test_the_protective_counter_is_compared_and_is_not_zero(counter: int, raises: bool) -> None:
    read = a_step("zero-report", before(16), device="SC-0141", public_counter=0, protective_counter=counter)
    assert bool(found_by("protective-counter-mismatch", read)) is raises
    assert found_by("nonzero-start-count", read) == []
