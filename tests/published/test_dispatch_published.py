"""Dispatch against published optima, a published rule, and an ellipsoid."""

import math
from itertools import pairwise

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from numpy.typing import NDArray
from scipy.optimize import linear_sum_assignment

from county.domain.dispatch_first import by_waves
from county.domain.dispatch_problem import Problem, cost
from county.domain.dispatch_search import improve
from county.domain.travel import EARTH_RADIUS_KM, great_circle_km
from tests.reference import reference_file

# GLPK's example assign.mod, after Christofides (1975); optimum 76
EIGHT_BY_EIGHT = """
13 21 20 12 8 26 22 11 / 12 36 25 41 40 11 4 8 / 35 32 13 36 26 21 13 37 / 34 54 7 8 12 22 11 40 /
21 6 45 18 24 34 12 48 / 42 19 39 15 14 16 28 46 / 16 34 38 3 34 40 22 24 / 26 20 5 17 45 31 37 43
"""


def one_case_each(minutes: NDArray[np.float64]) -> Problem:
    """As many rovers as cases, a shift over after the first: minimising the waiting is the assignment problem."""
    size = len(minutes)
    return Problem(
        weights=[1.0] * size,
        service=[0.0] * size,
        first=minutes.tolist(),
        legs=np.full((size, size), 1e6).tolist(),
        may=[frozenset(range(size))] * size,
        until=[1e5] * size,
        uses=[""] * size,
        spares=[{}] * size,
        heading=[None] * size,
    )


def test_the_eight_by_eight_assignment_comes_to_76() -> None:
    minutes = np.array([[float(word) for word in row.split()] for row in EIGHT_BY_EIGHT.split("/")])
    problem = one_case_each(minutes)
    assert cost(problem, by_waves(problem)) == 76
    assert cost(problem, improve(problem, by_waves(problem), 2_000, seed=1)) == 76


def test_assign100_comes_to_305() -> None:
    """OR-Library (J. E. Beasley), assign100: 305."""
    size, *numbers = (float(word) for word in reference_file("orlib_assign100.txt").read_text().split())
    minutes = np.array(numbers).reshape(int(size), int(size))
    rows, columns = linear_sum_assignment(minutes)
    assert minutes[rows, columns].sum() == 305
    problem = one_case_each(minutes)
    assert cost(problem, by_waves(problem)) == 305


@pytest.mark.parametrize("seed", range(5))
def test_without_travel_one_rover_goes_by_weight_per_minute_of_service(seed: int) -> None:
    """Smith (1956): weight ÷ service time, descending, is the best order on one machine."""
    draw = np.random.default_rng(seed)
    size = 30
    weights, service = draw.integers(1, 30, size).astype(float), draw.integers(5, 60, size).astype(float)
    problem = Problem(
        weights=weights.tolist(),
        service=service.tolist(),
        first=[[0.0] * size],
        legs=np.zeros((size, size)).tolist(),
        may=[frozenset(range(size))],
        until=[math.inf],
        uses=[""] * size,
        spares=[{}],
        heading=[None],
    )
    smith = sorted(range(size), key=lambda case: -weights[case] / service[case])
    found = improve(problem, by_waves(problem), 20_000, seed=1)
    assert cost(problem, found) == pytest.approx(cost(problem, [smith]), rel=1e-12)


def test_the_round_through_eil51_comes_within_two_per_cent_of_the_best_known() -> None:
    """TSPLIB's eil51 as a sum of arrivals, start at node 1, return leg counted, rounded distances: best known 10178.

    The way back is one more case, at the start, which nothing can be reached from: so it comes last.
    """
    towns = _towns(reference_file("eil51.tsp").read_text())
    ways = np.floor(np.sqrt(((towns[:, None] - towns[None]) ** 2).sum(-1)) + 0.5)
    legs = np.full((51, 51), 1e4)
    legs[:50, :50], legs[:50, 50] = ways[1:, 1:], ways[1:, 0]
    problem = Problem(
        weights=[1.0] * 51,
        service=[0.0] * 51,
        first=[[*ways[0, 1:].tolist(), 1e4]],
        legs=legs.tolist(),
        may=[frozenset(range(51))],
        until=[math.inf],
        uses=[""] * 51,
        spares=[{}],
        heading=[None],
    )
    (route,) = improve(problem, by_waves(problem), 400_000, seed=1)
    assert sorted(route) == list(range(51))
    assert route[-1] == 50
    round_trip = [0, *(case + 1 for case in route[:-1]), 0]
    arrivals = np.cumsum([ways[start, end] for start, end in pairwise(round_trip)])
    assert arrivals.sum() <= 10178 * 1.02


def _towns(tsplib: str) -> NDArray[np.float64]:
    rows = (line.split() for line in tsplib.splitlines())
    return np.array([[float(row[1]), float(row[2])] for row in rows if len(row) == 3 and row[0].isdigit()])


def test_geographiclib_answers_as_its_own_documentation_says() -> None:
    """The worked example of GeographicLib: (-41.32, 174.81) to (40.96, -5.50) is 19959679.267 m."""
    assert Geodesic.WGS84.Inverse(-41.32, 174.81, 40.96, -5.50)["s12"] == pytest.approx(19959679.267, abs=0.001)


def furthest_off(latitude: float) -> float:
    """The greatest share by which the great circle differs from WGS 84, over pairs up to 150 km apart."""
    draw = np.random.default_rng(int(latitude * 10))
    starts, ends = (
        np.column_stack([latitude + draw.uniform(-0.6, 0.6, 300), -99.7 + draw.uniform(-0.6, 0.6, 300)]) for _ in "12"
    )
    pairs = zip(starts.tolist(), ends.tolist(), strict=True)
    exact = np.array([Geodesic.WGS84.Inverse(*start, *end)["s12"] / 1000 for start, end in pairs])
    return float(np.max(np.abs(great_circle_km(starts, ends) / exact - 1)))


@pytest.mark.parametrize("latitude", [33.0, 37.5, 41.9, 46.0, 47.5])
def test_over_a_county_the_great_circle_stays_within_0_3_per_cent_of_the_ellipsoid(latitude: float) -> None:
    """GeographicLib on WGS 84; the sample county lies at 41.9."""
    assert furthest_off(latitude) <= 0.003


@pytest.mark.parametrize("latitude", [18.3, 25.0, 61.2, 71.3])
def test_nearer_to_the_equator_or_the_pole_it_stays_within_0_56_per_cent(latitude: float) -> None:
    """From Puerto Rico to the north of Alaska; at the equator a sphere of the mean radius is furthest off."""
    assert 0.003 < furthest_off(latitude) <= 0.0056


def test_the_radius_is_the_mean_radius_of_the_ellipsoid() -> None:
    """(2a + b) / 3 of WGS 84, a = 6378.137 km, f = 1 / 298.257223563."""
    a = 6378.137
    assert (2 * a + a * (1 - 1 / 298.257223563)) / 3 == pytest.approx(EARTH_RADIUS_KM, abs=1e-4)
