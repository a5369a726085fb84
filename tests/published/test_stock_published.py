"""Ballots to supply: Tex. Elec. Code 51.005, the last turnout and a quarter of it, at most those registered."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from county.domain.roster import Place, Precinct, Roster
from county.domain.stock import ballots_to_supply, registered_at


@pytest.mark.parametrize(
    ("registered", "turnout", "ballots"),
    [(2_000, 40, 1_000), (2_000, 90, 2_000), (2_000, 80, 2_000), (2_000, 0, 0), (0, 40, 0), (1_999, 40, 1_000)],
)
def test_the_published_values(registered: int, turnout: int, ballots: int) -> None:
    assert ballots_to_supply(registered, turnout) == ballots


@pytest.mark.parametrize("registered", [0, 1, 7, 1_000, 9_999])
@pytest.mark.parametrize("turnout", [0, 1, 33, 80, 100])
def test_exactly_the_turnout_and_a_quarter_rounded_up_or_all_who_are_registered(registered: int, turnout: int) -> None:
    ballots = ballots_to_supply(registered, turnout)
    assert ballots == registered or ballots * 400 >= registered * turnout * 5 > (ballots - 1) * 400


@pytest.mark.parametrize(("registered", "turnout"), [(-1, 40), (2_000, -1), (2_000, 101)])
def test_what_is_no_turnout_is_refused(registered: int, turnout: int) -> None:
    with pytest.raises(ValueError, match="is no turnout"):
        ballots_to_supply(registered, turnout)


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
