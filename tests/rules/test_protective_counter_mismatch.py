"""protective-counter-mismatch: read before opening, it is not the one recorded at final testing. It is not zero."""

import pytest

from county.domain.effects import Effect
from county.domain.entries import Entry
from tests.builders import CLOSES, a_count, a_step, before
from tests.looking import found_by

RULE = "protective-counter-mismatch"


def read(counter: int, step: str = "zero-report", device: str = "SC-0141") -> Entry:
    return a_step(step, before(16), device=device, protective_counter=counter)


@pytest.mark.parametrize("counter", [48_209, 48_211, 0])
def test_any_other_number_raises_it_zero_too(counter: int) -> None:
    (finding,) = found_by(RULE, read(counter))
    assert finding.says == f"SC-0141: protective counter {counter:,}, recorded 48,210"
    assert (finding.expected, finding.found) == ("48210", str(counter))
    assert (finding.effect, finding.device) == (Effect.STOPPED, "SC-0141")


def test_the_recorded_number_does_not() -> None:
    assert found_by(RULE, read(48_210)) == []


@pytest.mark.parametrize("step", ["seals-checked", "powered", "setup-confirmed", "zero-report"])
def test_it_may_be_read_at_any_step_before_opening(step: str) -> None:
    assert len(found_by(RULE, read(1, step))) == 1


@pytest.mark.parametrize("step", ["open", "closed", "results-printed"])
def test_once_the_polls_are_open_it_has_risen_and_is_not_compared(step: str) -> None:
    assert found_by(RULE, read(48_600, step), a_count(device="SC-0141", protective_counter=48_300)) == []


def test_where_none_was_recorded_nothing_can_be_compared() -> None:
    entry = a_step("zero-report", before(16), place="P016", device="SC-0161", protective_counter=7)
    assert found_by(RULE, entry, place="P016") == []


def test_a_step_the_plan_no_longer_names_is_left_alone() -> None:
    assert found_by(RULE, read(1, "gone-step"), a_step("results-printed", CLOSES, device="SC-0141")) == []
