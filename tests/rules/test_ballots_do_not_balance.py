"""ballots-do-not-balance: scanned differ from delivered less left less not scanned, at the close."""

from datetime import timedelta

import pytest

from county.domain.effects import Effect
from county.domain.entries import Entry
from tests.builders import CLOSES, a_correction, a_step
from tests.looking import found_by

RULE = "ballots-do-not-balance"


def balanced(minutes: float = 60, **said: object) -> Entry:
    return a_step("balanced", CLOSES + timedelta(minutes=minutes), **said)


def printed(ballots: int, device: str, minutes: float = 30) -> Entry:
    return a_step("results-printed", CLOSES + timedelta(minutes=minutes), device=device, public_counter=ballots)


def test_more_or_fewer_scanned_than_the_paper_says_raise_it() -> None:
    (finding,) = found_by(RULE, balanced(public_counter=402, ballots_left=600))
    assert finding.says == "402 ballots scanned, 400 by the count of paper: +2"
    assert (finding.expected, finding.found) == ("400", "402")
    assert (finding.effect, finding.device) == (Effect.RECORD, "")
    (finding,) = found_by(RULE, balanced(public_counter=399, ballots_left=600))
    assert finding.says.endswith("-1")


def test_equal_does_not() -> None:
    assert found_by(RULE, balanced(public_counter=400, ballots_left=600)) == []


def test_spoiled_provisional_challenged_and_auxiliary_were_not_scanned() -> None:
    apart = {"spoiled": 5, "provisional": 4, "challenged": 3, "auxiliary": 2}
    assert found_by(RULE, balanced(public_counter=386, ballots_left=600, **apart)) == []


def test_what_was_delivered_may_be_told_otherwise_than_planned() -> None:
    assert found_by(RULE, balanced(public_counter=500, ballots_left=600, ballots_delivered=1_100)) == []


def test_without_a_number_told_the_results_of_all_scanners_are_added_up() -> None:
    both = [printed(250, "SC-0141"), printed(150, "SC-0142")]
    assert found_by(RULE, *both, balanced(ballots_left=600)) == []
    assert found_by(RULE, *both, balanced(ballots_left=601))[0].found == "400"


def test_it_waits_for_every_scanner() -> None:
    one, other = printed(250, "SC-0141"), printed(152, "SC-0142", 90)
    assert found_by(RULE, one, balanced(ballots_left=600)) == []
    assert found_by(RULE, one, balanced(ballots_left=600), other)[0].since == other.happened_at


def test_it_is_cleared_once_they_agree() -> None:
    entries = [printed(250, "SC-0141"), printed(152, "SC-0142"), balanced(ballots_left=600)]
    assert found_by(RULE, *entries)[0].clears_at is None
    again = printed(150, "SC-0142", 95)
    assert found_by(RULE, *entries, again)[0].clears_at == again.happened_at
    counted_again = balanced(100, ballots_left=598)
    assert found_by(RULE, *entries, counted_again)[0].clears_at == counted_again.happened_at


@pytest.mark.parametrize("said", [{"public_counter": 400}, {"ballots_left": 600}, {}])
def test_what_is_not_known_is_not_compared(said: dict[str, object]) -> None:
    assert found_by(RULE, balanced(**said)) == []  # type: ignore[arg-type]


def test_where_nobody_knows_what_was_delivered_nothing_is_compared() -> None:
    entry = a_step("balanced", CLOSES, place="P015", public_counter=400, ballots_left=600)
    assert found_by(RULE, entry, place="P015") == []


def test_a_corrected_number_is_compared_as_it_stands() -> None:
    entry = balanced(public_counter=402, ballots_left=600)
    assert found_by(RULE, entry, a_correction(entry, ballots_left=598)) == []


def test_a_second_count_that_does_not_agree_either_clears_nothing() -> None:
    counts = [balanced(m, public_counter=n, ballots_left=600) for m, n in ((60, 402), (70, 401), (80, 400), (90, 400))]
    assert [finding.clears_at for finding in found_by(RULE, *counts)] == [counts[2].happened_at] * 2
