"""seal-at-return: a seal found at the office is not the one that was put on at closing."""

from datetime import timedelta

from county.domain.entries import Entry
from county.domain.findings import Finding
from tests.builders import CLOSES, a_step
from tests.custody import a_plan_with_items
from tests.looking import found_by, the_cases

RULE = "seal-at-return"
HOUR = timedelta(hours=1)
LEFT, BACK = CLOSES + HOUR, CLOSES + 2 * HOUR


def put_on(number: str, at: str = "front", **more: object) -> Entry:
    return a_step("departed", LEFT, device="SC-0141", seal_position=at, seal_number=number, **more)


def back(number: str, at: str = "front", **more: object) -> Entry:
    return a_step("received", BACK, device="SC-0141", seal_position=at, seal_number=number, **more)


def found(*entries: Entry) -> list[Finding]:
    return found_by(RULE, *entries, plan=a_plan_with_items())


def test_another_number_raises_it_on_that_device() -> None:
    (finding,) = found(put_on("770001"), back("770002"))
    assert finding.says == "front seal of SC-0141: found 770002, put on 770001"
    assert (finding.exception, finding.device) == ("custody-gap", "SC-0141")
    assert (finding.expected, finding.found, finding.since) == ("770001", "770002", BACK)


def test_the_same_number_does_not_however_it_is_written() -> None:
    assert found(put_on("AB 770-001"), back("ab770001", at="FRONT")) == []


def test_the_number_recorded_at_final_testing_says_nothing_at_the_office() -> None:
    assert found(put_on("770001"), back("A100"))[0].expected == "770001"
    assert found(put_on("770001"), back("770001")) == []


def test_a_seal_of_which_nobody_told_at_closing_is_compared_with_nothing() -> None:
    assert found(back("770002")) == []
    assert found(put_on("770001", at="auxiliary"), back("770002")) == []


def test_an_items_seal_is_the_places() -> None:
    left = a_step("departed", LEFT, item="used-ballots", seal_number="55")
    (finding,) = found(left, a_step("received", BACK, item="used-ballots", seal_number="56"))
    assert finding.says == "seal of Used ballots: found 56, put on 55"
    assert finding.device == ""
    assert found(left, a_step("received", BACK, item="used-ballots", seal_number="55")) == []


def test_what_was_put_on_last_counts_and_what_is_told_later_was_known_later() -> None:
    again = a_step("departed", LEFT + HOUR / 2, device="SC-0141", seal_position="front", seal_number="770009")
    assert found(put_on("770001"), again, back("770009")) == []
    (finding,) = found(put_on("770001", received_at=BACK + HOUR), back("770002"))
    assert finding.learned_at == BACK + HOUR


def test_a_seal_that_is_not_whole_is_the_other_rules_and_names_no_recorded_number() -> None:
    broken = a_step("received", BACK, device="SC-0141", seal_position="front", seal_intact=False)
    assert found(put_on("770001"), broken) == []
    case = the_cases(put_on("770001"), broken, plan=a_plan_with_items())["P014.seal-broken.SC-0141"]
    assert (case.expected, case.says) == ("whole", "front seal of SC-0141 is not whole, or not there")
    of_item = a_step("received", BACK, item="used-ballots", seal_intact=False)
    assert "P014.seal-broken" in the_cases(of_item, plan=a_plan_with_items())
