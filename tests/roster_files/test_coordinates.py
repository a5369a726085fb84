"""Coordinates: mended where only one thing can be meant, left out where nothing can, never in the way."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from county.roster_files.coordinates import Spot, read_pair, read_spot


@pytest.mark.parametrize(
    ("latitude", "longitude"),
    [
        ("41.9", "-99.7"),
        ("41,9", "-99,7"),
        ("41.9° N", "99.7° W"),
        ("41°54'0\"N", "99°42'0\"W"),
        ("41 54 00", "-99 42 00"),
        (" 41.90 ", "−99.70"),
    ],
)
def test_a_spot_as_it_should_be(latitude: str, longitude: str) -> None:
    spot = read_spot(latitude, longitude, in_america=True)
    assert spot.latitude == pytest.approx(41.9)
    assert spot.longitude == pytest.approx(-99.7)
    assert spot.doubt == ""


@pytest.mark.parametrize(
    ("latitude", "longitude", "says"),
    [
        ("-99.7", "41.9", "are swapped"),
        ("41.9", "99.7", "lack the minus"),
        ("-41.9", "99.7", "lack the minus of the west and have the minus at the latitude"),
        ("99.7", "41.9", "are swapped and lack the minus"),
    ],
)
def test_a_spot_that_can_be_mended_is_and_says_so(latitude: str, longitude: str, says: str) -> None:
    spot = read_spot(latitude, longitude, in_america=True)
    assert (spot.latitude, spot.longitude) == (41.9, -99.7)
    assert says in spot.doubt


@pytest.mark.parametrize(
    ("latitude", "longitude"),
    [
        ("0", "0"),
        ("1022899.1", "1989116.5"),
        ("41.9", ""),
        ("", "-99.7"),
        ("north", "west"),
        ("200", "41"),
        ("95", "95"),
    ],
)
def test_a_spot_that_says_nothing_leaves_the_place_without(latitude: str, longitude: str) -> None:
    spot = read_spot(latitude, longitude, in_america=True)
    assert (spot.latitude, spot.longitude) == (None, None)
    assert "the place stands without" in spot.doubt


def test_east_of_greenwich_nothing_is_mended() -> None:
    assert read_spot("13.4", "144.8", in_america=False) == Spot(13.4, 144.8)


@pytest.mark.parametrize("cell", ["41.9, -99.7", "(41.9,-99.7)", "41.9 -99.7", "POINT (-99.7 41.9)", "41.9;-99.7"])
def test_both_in_one_cell(cell: str) -> None:
    assert read_pair(cell, in_america=True) == Spot(41.9, -99.7)


@given(st.floats(14, 71), st.floats(-179, -73), st.booleans(), st.booleans())
def test_whatever_is_swapped_or_unsigned_comes_to_the_same(
    latitude: float, longitude: float, swapped: bool, unsigned: bool
) -> None:
    north, west = f"{latitude:.6f}", f"{abs(longitude) if unsigned else longitude:.6f}"
    spot = read_spot(*((west, north) if swapped else (north, west)), in_america=True)
    assert spot.latitude == pytest.approx(latitude, abs=1e-5)
    assert spot.longitude == pytest.approx(longitude, abs=1e-5)
    assert bool(spot.doubt) == (swapped or unsigned)


@given(st.text(max_size=20), st.text(max_size=20))
def test_no_text_whatever_breaks_the_reading_of_a_spot(latitude: str, longitude: str) -> None:
    spot = read_spot(latitude, longitude, in_america=True)
    assert (spot.latitude is None) == (spot.longitude is None)
