"""A place is found by its number, a precinct's, or part of its name, with typing mistakes; a wrong digit is none."""

import pytest

from county.domain.place_search import find_places, meant
from county.domain.roster import Place, Precinct, Roster
from tests.builders import a_roster

ROSTER = Roster(
    places=(
        Place("P014", "Mill Creek School", "12 Creek Road", "Wrenfield"),
        Place("P015", "Grange Hall", "4 Mill Lane", "Wrenfield"),
        Place("P140", "Mill Pond Library", "9 Pond Street", "Alder"),
        Place("P016", "Court House", "1 Square", "Alder", serves="all"),
    ),
    precincts=(Precinct("14A", "Mill Creek North", "P014"), Precinct("15", "Grange", "P015")),
)


@pytest.mark.parametrize(
    ("said", "place"),
    [
        ("P014", "P014"),
        ("p14", "P014"),
        ("14", "P014"),
        ("14a", "P014"),
        ("140", "P140"),
        ("mill creek school", "P014"),
        ("creek", "P014"),
        ("mil crek", "P014"),
        ("grnage", "P015"),
        ("libary", "P140"),
        ("pond st", "P140"),
        ("court hosue", "P016"),
        ("COURTHOUSE", "P016"),
    ],
)
def test_the_place_that_is_meant_comes_first(said: str, place: str) -> None:
    assert find_places(said, ROSTER)[0].place.place == place


@pytest.mark.parametrize("said", ["P014", "14A", "Mill Creek School", "grange", "libary"])
def test_one_that_must_be_meant_needs_no_choice(said: str) -> None:
    assert meant(find_places(said, ROSTER)) is not None


@pytest.mark.parametrize("said", ["mill", "wrenfield"])
def test_where_several_may_be_meant_a_person_chooses(said: str) -> None:
    found = find_places(said, ROSTER)
    assert len(found) > 1
    assert meant(found) is None


@pytest.mark.parametrize("said", ["", "  ", "P017", "99", "zzzz", "?!", "\x00"])
def test_nothing_is_found_where_nothing_is_like_it(said: str) -> None:
    assert find_places(said, ROSTER) == ()


def test_a_place_named_outright_wins_over_those_that_only_look_like_it() -> None:
    roster = a_roster(places=(Place("P001", "Mill"), Place("P002", "Mill Creek"), Place("P003", "Old Mill")))
    assert meant(find_places("mill", roster)) == roster.places[0]


def test_no_more_are_offered_than_can_be_read() -> None:
    roster = Roster(places=tuple(Place(f"P{number:03}", f"Hall {number}") for number in range(200)))
    assert len(find_places("hall", roster)) == 5
