"""Ballot accounting against published worksheets, audits and statutes."""

import pytest

from county.domain.balance import balance, expected_scanned
from tests.builders import CLOSES, a_step
from tests.looking import found_by

# Wake County, North Carolina, precinct worksheets: delivered, left, not scanned, and the number on the tape.
WAKE = [(2_001, 1_166, 47, 788), (3_203, 2_685, 6, 512), (1_401, 963, 7, 431), (3_100, 2_131, 35, 934)]


@pytest.mark.parametrize(("delivered", "left", "not_scanned", "tape"), WAKE)
def test_wake_county_worksheets(delivered: int, left: int, not_scanned: int, tape: int) -> None:
    assert expected_scanned(delivered, left, not_scanned) == tape


@pytest.mark.parametrize(("delivered", "left", "not_scanned", "tape"), WAKE)
def test_wake_county_worksheets_raise_nothing_and_one_ballot_more_does(
    delivered: int, left: int, not_scanned: int, tape: int
) -> None:
    said = {"ballots_delivered": delivered, "ballots_left": left, "spoiled": not_scanned}
    for extra, raises in ((0, False), (1, True), (-1, True)):
        balanced = a_step("balanced", CLOSES, public_counter=tape + extra, **said)
        assert bool(found_by("ballots-do-not-balance", balanced)) is raises


def test_wake_county_out_of_balance_by_one() -> None:
    # the same county: 1,480 scanned against 1,479 check-ins, which must have a reason
    assert balance([1_480 - 1_479]).net == 1


def test_detroit_2016_net_hides_what_absolute_shows() -> None:
    # Detroit 2016, as the Detroit News reported: 128 too many and 88 too few
    over_and_under = balance([128, -88])
    assert (over_and_under.net, over_and_under.absolute) == (40, 216)


def test_colorado_every_ballot_supplied_is_accounted_for() -> None:
    # 8 CCR 1505-1 Rule 10.1.2-.3: voted + spoiled + provisional + unvoted = supplied
    voted, spoiled, provisional, unvoted = 788, 20, 27, 1_166
    supplied = voted + spoiled + provisional + unvoted
    assert expected_scanned(supplied, unvoted, spoiled + provisional) == voted
