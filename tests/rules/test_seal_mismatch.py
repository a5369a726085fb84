"""seal-mismatch: the number found is not the one recorded at final testing for that device and position."""

import pytest

from county.domain.cases import State
from county.domain.effects import Effect
from county.domain.entries import Entry
from tests.builders import a_step, an_action, before
from tests.looking import found_by, the_case

RULE, CASE = "seal-mismatch", "P014.seal-mismatch.SC-0141"


def seal(number: str, position: str = "front", device: str = "SC-0141", **more: object) -> Entry:
    said = {"seal_position": position} if position else {}
    return a_step("seals-checked", before(30), device=device, seal_number=number, **said, **more)


def test_another_number_raises_it() -> None:
    (finding,) = found_by(RULE, seal("A199"))
    assert finding.says == "front seal of SC-0141: found A199, recorded A100"
    assert (finding.expected, finding.found, finding.device) == ("A100", "A199", "SC-0141")
    assert (finding.effect, finding.since) == (Effect.STOPPED, before(30))


@pytest.mark.parametrize("number", ["A100", "a100", " A 100 ", "A-100"])
def test_the_recorded_number_does_not_however_it_is_written(number: str) -> None:
    assert found_by(RULE, seal(number)) == []


@pytest.mark.parametrize("number", ["A1000", "A10", "0A100", "AI00", "100"])
def test_a_number_that_only_looks_alike_does(number: str) -> None:
    assert len(found_by(RULE, seal(number))) == 1


def test_the_right_number_at_the_wrong_position_does() -> None:
    assert found_by(RULE, seal("A101"))[0].expected == "A100"


@pytest.mark.parametrize("position", ["Front", "FRONT"])
def test_letter_case_of_the_position_does_not_matter(position: str) -> None:
    assert found_by(RULE, seal("A100", position)) == []
    assert found_by(RULE, seal("A199", position))[0].expected == "A100"


@pytest.mark.parametrize("position", ["", "lid"])
def test_where_no_such_position_is_recorded_any_number_of_the_device_will_do(position: str) -> None:
    assert found_by(RULE, seal("A101", position)) == []
    assert found_by(RULE, seal("A200", position))[0].says.endswith("found A200, not recorded for it")


def test_a_device_with_one_seal_needs_no_position() -> None:
    assert found_by(RULE, seal("A300", "", "SC-0151", place="P015"), place="P015") == []
    (finding,) = found_by(RULE, seal("A301", "", "SC-0151", place="P015"), place="P015")
    assert finding.says == "front seal of SC-0151: found A301, recorded A300"


def test_a_seal_where_none_is_recorded_raises_it() -> None:
    (finding,) = found_by(RULE, seal("Z1", "", "SC-0161", place="P016"), place="P016")
    assert finding.expected == "none recorded"


def test_a_new_seal_put_on_at_the_end_of_the_day_does_not() -> None:
    assert found_by(RULE, a_step("departed", before(-900), device="SC-0141", seal_number="N777")) == []


def test_a_check_without_a_number_says_nothing_of_it() -> None:
    assert found_by(RULE, a_step("seals-checked", device="SC-0141", seal_intact=True), a_step("seals-checked")) == []


def test_each_device_is_a_case_of_its_own_and_needs_a_person() -> None:
    entries = [seal("A199"), seal("A299", device="SC-0142"), seal("A100")]
    assert {finding.device for finding in found_by(RULE, *entries)} == {"SC-0141", "SC-0142"}
    assert the_case(CASE, *entries).state is State.RAISED
    assert the_case(CASE, *entries, an_action(CASE, "clear", before(5))).state is State.CLEARED
