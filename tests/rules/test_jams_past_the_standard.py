"""jams-past-the-standard: jams times 500 exceed the ballots a scanner had scanned by then (VVSG 2.0 1.2-G)."""

import pytest

from county.domain.cases import State
from county.domain.effects import Effect
from county.domain.entries import Entry
from tests.builders import a_count, a_plan, after, an_action, an_exception
from tests.looking import found_by, the_cases

RULE = "jams-past-the-standard"
NAME = "P014.scanner-fault.SC-0141"


def jams(*minutes: float, device: str = "SC-0141") -> list[Entry]:
    return [an_exception("scanner-jam", after(minute), device=device) for minute in minutes]


def scanned(ballots: int, minutes: float = 0, device: str = "SC-0141") -> Entry:
    return a_count(after(minutes), device=device, public_counter=ballots)


def test_the_third_jam_of_a_scanner_raises_it() -> None:
    entries = jams(10, 20, 30)
    assert found_by(RULE, *entries[:2]) == []
    (finding,) = found_by(RULE, *entries, scanned(120))
    assert finding.says == "SC-0141: 3 jams in 120 ballots"
    assert (finding.exception, finding.effect, finding.device) == ("scanner-fault", Effect.IMPAIRED, "SC-0141")
    assert (finding.since, finding.cause) == (after(30), entries[-1].key)


@pytest.mark.parametrize(("ballots", "raises"), [(1_499, True), (1_500, False), (1_501, False)])
def test_one_jam_in_five_hundred_ballots_is_within_the_standard(ballots: int, raises: bool) -> None:
    assert bool(found_by(RULE, *jams(10, 20, 30), scanned(ballots))) is raises


def test_what_is_scanned_later_does_not_take_it_back() -> None:
    assert len(found_by(RULE, *jams(10, 20, 30), scanned(120), scanned(1_800, 600))) == 1


def test_jams_after_enough_ballots_do_not_raise_it() -> None:
    assert found_by(RULE, *jams(610, 620, 630), scanned(1_800, 600)) == []


def test_the_plan_says_from_how_many_jams_on() -> None:
    assert len(found_by(RULE, *jams(10), plan=a_plan(jams=1))) == 1


def test_jams_of_several_scanners_or_of_none_named_are_not_added_up() -> None:
    assert found_by(RULE, *jams(10, 20), *jams(15, 25, device="SC-0142"), *jams(1, 2, 3, device="")) == []


def test_another_jam_after_the_case_was_cleared_is_another_case() -> None:
    entries = [*jams(10, 20, 30), an_action(NAME, "clear", after(40)), *jams(90)]
    cases = the_cases(*entries)
    assert cases[NAME].state is State.CLEARED
    assert (cases[f"{NAME}.2"].state, cases[f"{NAME}.2"].raised_at) == (State.RAISED, after(90))


def test_the_highest_count_read_up_to_the_jam_is_what_it_had_scanned() -> None:
    assert found_by(RULE, *jams(10, 20, 30), scanned(2_000, 30), scanned(100, 5)) == []
