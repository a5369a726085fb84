"""counter-backwards: a public counter lower than one read before on the same device."""

import pytest

from county.domain.effects import Effect
from county.domain.entries import Entry
from tests.builders import a_correction, a_count, a_step, after, before
from tests.looking import found_by

RULE = "counter-backwards"


def read(counter: int, minutes: float, device: str = "SC-0141") -> Entry:
    return a_count(after(minutes), device=device, public_counter=counter)


def test_a_lower_count_raises_it() -> None:
    (finding,) = found_by(RULE, read(120, 60), read(119, 120))
    assert finding.says == "SC-0141 counted 119 after 120"
    assert (finding.expected, finding.found) == ("at least 120", "119")
    assert (finding.effect, finding.device, finding.since) == (Effect.AT_RISK, "SC-0141", after(120))


@pytest.mark.parametrize("counter", [120, 121])
def test_the_same_or_a_higher_one_does_not(counter: int) -> None:
    assert found_by(RULE, read(120, 60), read(counter, 120)) == []


def test_it_is_the_order_in_which_they_were_read_that_counts() -> None:
    assert found_by(RULE, read(130, 120), read(120, 60)) == []


def test_of_two_read_at_the_same_moment_the_lower_came_first() -> None:
    for low, high in (("a", "b"), ("b", "a")):
        readings = [a_count(after(60), device="SC-0141", public_counter=n, key=k) for n, k in ((9, low), (12, high))]
        assert found_by(RULE, *readings) == []


def test_devices_are_not_mixed() -> None:
    assert found_by(RULE, read(120, 60), read(40, 120, "SC-0142"), read(60, 130, "")) == []


def test_the_places_own_total_can_go_backwards_too() -> None:
    (finding,) = found_by(RULE, read(120, 60, ""), read(100, 120, ""))
    assert (finding.says, finding.device) == ("the place counted 100 after 120", "")


def test_the_counters_of_steps_are_read_too() -> None:
    zero = a_step("zero-report", before(16), device="SC-0141", public_counter=3)
    printed = a_step("results-printed", after(800), device="SC-0141", public_counter=110)
    assert [finding.since for finding in found_by(RULE, zero, read(2, 60))] == [after(60)]
    assert [finding.since for finding in found_by(RULE, read(120, 60), printed)] == [after(800)]


def test_a_step_without_a_device_says_nothing_of_one() -> None:
    assert found_by(RULE, read(120, 60, ""), a_step("results-printed", after(800), public_counter=110)) == []


def test_a_corrected_count_no_longer_stands() -> None:
    typo = read(12, 120)
    assert found_by(RULE, read(120, 60), typo, a_correction(typo, public_counter=121)) == []
