"""What the map is given, and what it says in words beside it."""

from dataclasses import replace

from county.domain.roster import Place
from dashboard.places_drawn import legend, map_of_places, not_on_the_map
from tests.builders import a_full_opening, a_roster, after
from tests.dashboard.a_board import a_board

ROSTER = replace(
    a_roster(),
    places=(
        Place("P014", "Mill Creek School", latitude=41.9, longitude=-99.7),
        Place("P015", "Grange Hall", latitude=41.8, longitude=-99.8),
        Place("P016", "Court House"),
    ),
)


def test_the_worst_come_first_and_are_named() -> None:
    drawn = map_of_places(a_board(*a_full_opening("P014"), roster=ROSTER, now=after(5)))
    assert drawn["places"] == [
        ["P015", "Grange Hall", -99.8, 41.8, "unheard", True, "5 min late and nothing heard, first step was due 05:15"],
        ["P014", "Mill Creek School", -99.7, 41.9, "open", False, ""],
    ]


def test_a_place_without_coordinates_is_listed() -> None:
    assert "Court House" in not_on_the_map(a_board(roster=ROSTER))
    assert not_on_the_map(a_board(roster=replace(ROSTER, places=ROSTER.places[:2]))) == ""


def test_every_shape_has_its_word_and_its_number() -> None:
    said = legend(a_board(*a_full_opening("P014"), roster=ROSTER, now=after(5)))
    assert said == [("unheard", "not heard from", 2), ("open", "open", 1)]
