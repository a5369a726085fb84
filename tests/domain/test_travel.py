"""Ways: great circle and road factor, or the county's own matrix."""

import numpy as np
import pytest

from county.domain.travel import Spot, Travel, great_circle_km

SCHOOL, GRANGE = Spot("P014", 41.9, -99.7), Spot("P015", 41.95, -99.6)
NOWHERE = Spot("P099")


def test_a_way_is_the_start_and_the_road_at_the_plans_speed() -> None:
    km = float(great_circle_km(np.array([41.9, -99.7]), np.array([41.95, -99.6])))
    assert km == pytest.approx(9.97, abs=0.01)
    travel = Travel(road_factor=1.5, km_per_hour=60, start_minutes=3)
    assert travel.minutes(SCHOOL, GRANGE) == pytest.approx(3 + km * 1.5)


def test_staying_takes_nothing_but_another_spot_at_the_same_coordinates_takes_the_start() -> None:
    assert Travel(start_minutes=3).minutes(SCHOOL, SCHOOL) == 0
    assert Travel(start_minutes=3).minutes(SCHOOL, Spot("R01", 41.9, -99.7)) == 3


def test_the_countys_own_matrix_wins_one_way_and_only_for_the_pairs_it_has() -> None:
    travel = Travel(matrix={("P014", "P015"): 22.0, ("P014", "P014"): 5.0})
    assert travel.minutes(SCHOOL, GRANGE) == 22
    assert travel.minutes(GRANGE, SCHOOL) == Travel().minutes(GRANGE, SCHOOL)
    assert travel.minutes(SCHOOL, SCHOOL) == 0


def test_without_coordinates_a_way_takes_the_unknown_minutes_unless_the_matrix_knows_it() -> None:
    travel = Travel(unknown_minutes=25, matrix={("P099", "P014"): 8.0})
    assert travel.minutes(SCHOOL, NOWHERE) == 25
    assert travel.minutes(NOWHERE, SCHOOL) == 8
    assert travel.minutes(NOWHERE, NOWHERE) == 0
    assert travel.minutes(SCHOOL, Spot("P098", latitude=41.0)) == 25


def test_a_table_has_a_row_a_start_and_a_column_an_end() -> None:
    table = Travel().table([SCHOOL, GRANGE, NOWHERE], [GRANGE, SCHOOL])
    assert table.shape == (3, 2)
    assert table[0, 0] == table[1, 1] == Travel().minutes(SCHOOL, GRANGE)
    assert Travel().table([], [SCHOOL]).shape == (0, 1)


def test_points_on_opposite_sides_of_the_earth_are_half_its_girth_apart() -> None:
    assert great_circle_km(np.array([0.0, 0.0]), np.array([0.0, 180.0])) == pytest.approx(np.pi * 6371.0088)
