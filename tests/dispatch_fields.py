"""Made-up dispatch problems: a county with rovers and cases, and small ones with every limit there is."""

import math
from collections.abc import Iterator
from itertools import permutations

import numpy as np
from numpy.typing import NDArray

from county.domain.dispatch_problem import Problem, Routes, arrivals, cost, holds

_KM = 40.0
_EFFECT_WEIGHTS = (9.0, 3.0, 1.0, 0.3)


def a_morning(seed: int, rovers: int = 20, cases: int = 60) -> Problem:
    """A bad morning in a county 40 km across: about half the cases need one of three skills, each known to half."""
    draw = np.random.default_rng(seed)
    places, bases = draw.random((cases, 2)) * _KM, draw.random((rovers, 2)) * _KM
    busy = np.where(draw.random(rovers) < 0.3, draw.random(rovers) * 20, 0.0)
    weights = draw.choice(_EFFECT_WEIGHTS, cases, p=[0.25, 0.40, 0.30, 0.05])
    service = draw.choice([10.0, 15.0, 20.0, 30.0, 45.0], cases)
    needs = draw.choice(4, cases, p=[0.55, 0.15, 0.15, 0.15])
    knows = draw.random((rovers, 4)) < 0.5
    knows[:, 0] = True
    knows[0] = True
    return Problem(
        weights=weights.tolist(),
        service=service.tolist(),
        first=(_ways(bases, places) + busy[:, None]).tolist(),
        legs=_no_way_to_itself(_ways(places, places)),
        may=[frozenset(np.flatnonzero(knows[rover, needs]).tolist()) for rover in range(rovers)],
        until=[math.inf] * rovers,
        uses=[""] * cases,
        spares=[{}] * rovers,
        heading=[None] * rovers,
    )


def a_small_field(seed: int, rovers: int, cases: int, *, limits: bool = True) -> Problem:
    """A small problem, one-way streets and all; with `limits`, skills, few spares, short shifts, rovers on the way."""
    draw = np.random.default_rng([seed, rovers, cases, limits])
    places, bases = draw.random((cases, 2)) * _KM, draw.random((rovers, 2)) * _KM
    uneven = draw.uniform(0.9, 1.1, (rovers + cases, cases))
    may = [frozenset(np.flatnonzero(draw.random(cases) < (0.75 if limits else 1.0)).tolist()) for _ in range(rovers)]
    goals = [int(draw.choice(sorted(able))) if able and draw.random() < 0.4 else None for able in may]
    return Problem(
        weights=draw.choice(_EFFECT_WEIGHTS, cases).tolist(),
        service=draw.choice([5.0, 10.0, 20.0, 30.0], cases).tolist(),
        first=((_ways(bases, places) * uneven[:rovers]) + draw.integers(0, 20, rovers)[:, None]).tolist(),
        legs=_no_way_to_itself(_ways(places, places) * uneven[rovers:]),
        may=may,
        until=[float(draw.choice([60, 120, 180, math.inf])) if limits else math.inf for _ in range(rovers)],
        uses=[str(draw.choice(["", "", "printer", "scanner"])) if limits else "" for _ in range(cases)],
        spares=[{"printer": int(draw.integers(0, 3)), "scanner": int(draw.integers(0, 2))} for _ in range(rovers)],
        heading=[goal if limits and goal not in goals[:rover] else None for rover, goal in enumerate(goals)],
        turn_cost=float(draw.choice([0, 30, 90])),
    )


def least_cost(problem: Problem) -> float:
    """The cost of the best plan, by trying every one there is: slow, and independent of the program's own search."""
    return min(cost(problem, routes) for routes in _every_plan(problem) if holds(problem, routes))


def _every_plan(problem: Problem) -> Iterator[list[list[int]]]:
    """Every way to cut every order of every choice of cases into one row a rover."""
    for left_out in range(2**problem.cases):
        chosen = [case for case in range(problem.cases) if not left_out >> case & 1]
        for order in permutations(chosen):
            for rows in _cuts(order, problem.rovers):
                yield [list(row) for row in rows]


def _cuts(order: tuple[int, ...], rows: int) -> list[tuple[tuple[int, ...], ...]]:
    if rows == 1:
        return [(order,)]
    return [(order[:cut], *rest) for cut in range(len(order) + 1) for rest in _cuts(order[cut:], rows - 1)]


def waited(problem: Problem, routes: Routes) -> float:
    """The weighted minutes alone, summed the plain way."""
    return sum(
        problem.weights[case] * at
        for rover, route in enumerate(routes)
        for case, at in zip(route, arrivals(problem, rover, route), strict=True)
    )


def _ways(starts: NDArray[np.float64], ends: NDArray[np.float64]) -> NDArray[np.float64]:
    """Four minutes to set off, and 45 km/h on roads 1.3 times as long as the straight line."""
    straight = np.sqrt(((starts[:, None] - ends[None]) ** 2).sum(-1))
    ways: NDArray[np.float64] = 4 + straight * 1.3 * 60 / 45
    return ways


def _no_way_to_itself(ways: NDArray[np.float64]) -> list[list[float]]:
    np.fill_diagonal(ways, 0.0)
    legs: list[list[float]] = ways.tolist()
    return legs
