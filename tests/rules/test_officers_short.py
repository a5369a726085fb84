"""officers-short: fewer officers present than the plan asks; a later report of enough clears it."""

import pytest

from county.domain.cases import State
from county.domain.effects import Effect
from county.domain.entries import Entry
from tests.builders import a_plan, a_step, before
from tests.looking import found_by, the_case

RULE = "officers-short"


def present(officers: int, minutes: int = 50, step: str = "staffed") -> Entry:
    return a_step(step, before(minutes), officers_present=officers)


@pytest.mark.parametrize("officers", [0, 1])
def test_fewer_than_two_raises_it(officers: int) -> None:
    (finding,) = found_by(RULE, present(officers))
    assert finding.says == f"{officers} of 2 officers present"
    assert (finding.expected, finding.found) == ("2", str(officers))
    assert (finding.effect, finding.since) == (Effect.AT_RISK, before(50))


@pytest.mark.parametrize("officers", [2, 9])
def test_enough_does_not(officers: int) -> None:
    assert found_by(RULE, present(officers)) == []


def test_the_plan_says_how_many() -> None:
    assert found_by(RULE, present(4), plan=a_plan(officers=5))[0].says == "4 of 5 officers present"


def test_nothing_said_of_officers_raises_nothing() -> None:
    assert found_by(RULE, a_step("staffed", before(50))) == []


def test_a_later_report_of_enough_clears_it_at_whatever_step() -> None:
    (finding,) = found_by(RULE, present(1), present(3, 20, "powered"))
    assert (finding.clears_at, finding.clears_says) == (before(20), "enough officers are present")
    assert the_case("P014.officers-short", present(1), present(3, 20)).state is State.CLEARED


def test_an_earlier_one_or_one_still_short_does_not() -> None:
    assert found_by(RULE, present(1), present(3, 60))[0].clears_at is None
    assert [finding.clears_at for finding in found_by(RULE, present(0), present(1, 20))] == [None, None]


def test_it_is_cleared_by_the_first_report_of_just_enough() -> None:
    assert found_by(RULE, present(1), present(2, 20), present(4, 10))[0].clears_at == before(20)
