"""Ballots to supply: Tex. Elec. Code 51.005, the last turnout and a quarter of it, at most those registered."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from county.domain.ballot_supply import ballots_to_supply, registered_at
from county.domain.roster import Place, Precinct, Roster


@pytest.mark.parametrize(("registered", "turnout", "ballots"), [(2_000, 40, 1_000), (2_000, 90, 2_000)])
def test_the_published_values(registered: int, turnout: int, ballots: int) -> None:
    assert ballots_to_supply(registered, turnout) == ballots


@given(st.integers(0, 1_000_000), st.integers(0, 100))
def test_never_fewer_than_voted_last_time_and_never_more_than_are_registered(registered: int, turnout: int) -> None:
    ballots = ballots_to_supply(registered, turnout)
    assert registered * turnout / 100 <= ballots <= registered


@given(st.integers(0, 100_000), st.integers(0, 99))
def test_a_higher_turnout_never_asks_for_fewer(registered: int, turnout: int) -> None:
    assert ballots_to_supply(registered, turnout) <= ballots_to_supply(registered, turnout + 1)


def test_registered_is_the_places_own_figure_else_the_sum_of_its_precincts_where_every_one_is_known() -> None:
    two = (Precinct("1", "One", "A", 700), Precinct("2", "Two", "A", 300))
    own, sum_of = Place("A", "Hall", registered=5), Place("A", "Hall")
    assert registered_at(own, Roster(places=(own,), precincts=two)) == 5
    assert registered_at(sum_of, Roster(places=(sum_of,), precincts=two)) == 1_000
    unknown = (*two, Precinct("3", "Three", "A"))
    assert registered_at(sum_of, Roster(places=(sum_of,), precincts=unknown)) is None
