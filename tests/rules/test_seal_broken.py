"""seal-broken: a seal reported as not whole, or not there, whatever its number."""

import pytest

from county.domain.cases import State
from county.domain.effects import Effect
from tests.builders import a_step, before
from tests.looking import found_by, the_case


def test_a_seal_that_is_not_whole_raises_it() -> None:
    broken = a_step("seals-checked", before(30), device="SC-0141", seal_position="front", seal_intact=False)
    (finding,) = found_by("seal-broken", broken)
    assert finding.says == "front seal of SC-0141 is not whole, or not there"
    assert (finding.expected, finding.found) == ("whole, A100", "not whole, or not there")
    assert (finding.effect, finding.device, finding.since) == (Effect.STOPPED, "SC-0141", before(30))


def test_with_its_number_read_it_is_there_but_not_whole() -> None:
    broken = a_step("seals-checked", device="SC-0141", seal_number="A101", seal_intact=False)
    (finding,) = found_by("seal-broken", broken)
    assert finding.says == "auxiliary seal of SC-0141 is not whole"


def test_without_position_and_number_it_is_some_seal_of_the_device() -> None:
    (finding,) = found_by("seal-broken", a_step("seals-checked", device="SC-0141", seal_intact=False))
    assert finding.says == "seal of SC-0141 is not whole, or not there"
    assert finding.expected == "whole"


@pytest.mark.parametrize("intact", [True, None])
def test_a_whole_seal_or_one_of_which_nothing_is_said_does_not(intact: bool | None) -> None:
    said = {} if intact is None else {"seal_intact": intact}
    assert found_by("seal-broken", a_step("seals-checked", device="SC-0141", seal_number="A100", **said)) == []


def test_a_later_whole_one_does_not_clear_it() -> None:
    broken = a_step("seals-checked", before(30), device="SC-0141", seal_position="front", seal_intact=False)
    whole = a_step("seals-checked", before(20), device="SC-0141", seal_position="front", seal_intact=True)
    assert the_case("P014.seal-broken.SC-0141", broken, whole).state is State.RAISED
