"""drift: check-ins and ballots scanned differ by more than the plan's tolerance: a signal, not a balance."""

import pytest

from county.domain.effects import Effect
from county.domain.entries import Entry
from tests.builders import a_count, a_plan, after
from tests.looking import found_by


def check_ins(number: int, minutes: float = 60, **more: object) -> Entry:
    return a_count(after(minutes), check_ins=number, **more)


def scanned(number: int, minutes: float = 60, device: str = "SC-0141") -> Entry:
    return a_count(after(minutes), device=device, public_counter=number)


@pytest.mark.parametrize(("number", "raises"), [(94, True), (95, False), (100, False), (105, False), (106, True)])
def test_more_than_five_either_way_raise_it(number: int, raises: bool) -> None:
    entries = [check_ins(number), scanned(60, 61), scanned(40, 62, "SC-0142")]
    assert bool(found_by("drift", *entries)) is raises


def test_it_says_by_how_many_and_is_the_places() -> None:
    last = scanned(40, 62, "SC-0142")
    (finding,) = found_by("drift", check_ins(112), scanned(60, 61), last)
    assert finding.says == "112 check-ins, 100 ballots scanned: +12"
    assert (finding.expected, finding.found, finding.device) == ("within 5", "+12", "")
    assert (finding.effect, finding.since, finding.cause) == (Effect.AT_RISK, after(62), last.key)


def test_the_plan_says_how_many() -> None:
    entries = [check_ins(112), scanned(60), scanned(40, 60, "SC-0142")]
    assert found_by("drift", *entries, plan=a_plan(drift=12)) == []


def test_nothing_is_compared_while_a_scanner_is_missing() -> None:
    assert found_by("drift", check_ins(500), scanned(60)) == []


def test_nothing_is_compared_that_was_not_told_within_a_quarter_of_an_hour() -> None:
    one, other = scanned(60, 50), scanned(40, 61, "SC-0142")
    assert found_by("drift", one, check_ins(500, 66), other) == []
    assert len(found_by("drift", one, check_ins(500, 65), other)) == 1


def test_the_check_ins_may_come_last() -> None:
    assert len(found_by("drift", scanned(60, 58), scanned(40, 59, "SC-0142"), check_ins(500))) == 1


def test_each_reading_is_compared_once() -> None:
    first_hour = [check_ins(100, 60), scanned(60, 61), scanned(40, 62, "SC-0142")]
    # twelve minutes on there are more check-ins, and the scanners have not been read again
    assert found_by("drift", *first_hour, check_ins(120, 72)) == []
    second_reading = [scanned(70, 73), scanned(44, 74, "SC-0142")]
    assert len(found_by("drift", *first_hour, check_ins(120, 72), *second_reading)) == 1


def test_a_count_that_tells_both_for_the_whole_place_is_enough() -> None:
    assert found_by("drift", check_ins(100, public_counter=99)) == []
    assert len(found_by("drift", check_ins(100, public_counter=80))) == 1


def test_the_only_scanner_of_a_place_may_be_named_or_not() -> None:
    for device in ("", "SC-0151"):
        entry = check_ins(100, public_counter=80, device=device, place="P015")
        assert len(found_by("drift", entry, place="P015")) == 1


def test_counts_without_check_ins_say_nothing() -> None:
    assert found_by("drift", scanned(60), scanned(40, 60, "SC-0142")) == []
