"""ballots-out: a count of no ballots left stops the place; a later count of some clears it."""

from county.domain.cases import State
from county.domain.effects import Effect
from county.domain.entries import Entry
from tests.builders import a_count, a_step, after
from tests.looking import found_by, the_cases


def left(ballots: int, minutes: float) -> Entry:
    return a_count(after(minutes), ballots_left=ballots)


def test_none_left_raises_it() -> None:
    (finding,) = found_by("ballots-out", left(40, 60), left(0, 120))
    assert (finding.says, finding.found) == ("no ballots left", "0")
    assert (finding.effect, finding.since, finding.clears_at) == (Effect.STOPPED, after(120), None)


def test_one_left_or_nothing_said_does_not() -> None:
    assert found_by("ballots-out", left(1, 60), a_count(in_line=4), a_step("closed", ballots_left=0)) == []


def test_a_later_count_of_some_clears_it_and_an_earlier_one_does_not() -> None:
    (finding,) = found_by("ballots-out", left(40, 60), left(0, 120), left(200, 150))
    assert (finding.clears_at, finding.clears_says) == (after(150), "ballots are there again")


def test_out_again_is_another_case() -> None:
    cases = the_cases(left(0, 120), left(0, 130), left(200, 150), left(0, 300))
    assert {name: case.state for name, case in cases.items()} == {
        "P014.ballots-out": State.CLEARED,
        "P014.ballots-out.2": State.RAISED,
    }


def test_it_is_cleared_by_the_first_count_of_some() -> None:
    assert found_by("ballots-out", left(0, 120), left(200, 150), left(180, 180))[0].clears_at == after(150)
