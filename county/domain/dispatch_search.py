"""A seeded search of a fixed number of steps that improves a dispatch plan: annealing over small moves."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from county.domain.dispatch_moves import cross, move_one, move_three, move_two, swap, take_in
from county.domain.dispatch_problem import LEFT_OUT_MINUTES, Problem, Routes, cost, route_cost
from county.domain.dispatch_tour import NOBODY, Tour

Move = Callable[[Tour, int, int, float], float]

# the share of steps that try each move, found by trial on 20 rovers and 60 cases
MOVES: tuple[tuple[Move, float], ...] = (
    (move_one, 0.25),
    (move_two, 0.2),
    (move_three, 0.05),
    (swap, 0.3),
    (cross, 0.2),
)

_NEAR_CASES, _NEAR_ROVERS = 12, 6  # how many neighbours a case is tried behind

# hot, cold (in shares of a case's mean cost) and share of the steps: by trial on the same, a second and cooler go after
# the first finds more than one slow one
_COOLINGS = ((0.4, 0.03, 0.3), (0.2, 0.03, 0.7))
_PACKING = 0.1, 0.4  # where not all can be served: how hot, in shares of what leaving a case out costs; share of steps
_FAR = 0.1  # the share of steps that try any stop, however far
_BLOCK = 64  # steps at one temperature
_BETTER = -1e-6  # weighted minutes; less may be a rounding error, and two such could undo each other for ever


def improve(problem: Problem, routes: Routes, steps: int, seed: int) -> list[list[int]]:
    """The best plan found from this one in exactly `steps` random steps and descents to where no small move helps.

    Keeps every hard limit the given plan keeps and never costs more than it. The same seed gives the same plan.
    """
    if not problem.cases or not problem.rovers:
        return [list(route) for route in routes]
    stops, draw = _stops_nearby(problem), np.random.default_rng(seed)
    first = found = _descended(problem, routes, stops)
    for hot, cold, share in _coolings(problem, first):
        count = round(steps * share)
        heat = np.geomspace(hot, cold, count // _BLOCK + 1).repeat(_BLOCK)[:count]
        found = _anneal(Tour(problem, found), stops, (heat * draw.standard_exponential(count)).tolist(), draw)
    everywhere = np.tile(np.arange(problem.cases + problem.rovers), (problem.cases, 1))
    return min(first, _descended(problem, found, everywhere), key=lambda plan: cost(problem, plan))


def _coolings(problem: Problem, first: Routes) -> list[tuple[float, float, float]]:
    """First and last temperature in weighted minutes, and share of the steps, of each cooling.

    Where not all cases can be served, a hotter one goes before: one case is given up for another only while the plan
    is hot enough for what that costs.
    """
    served = {case for route in first for case in route}
    waited = sum(route_cost(problem, rover, route) for rover, route in enumerate(first))
    unit = max(waited, 1.0) / problem.cases
    usual = [(hot * unit, cold * unit, share) for hot, cold, share in _COOLINGS]
    if len(served) == problem.cases:
        return usual
    hotter, packing = _PACKING
    hottest = hotter * LEFT_OUT_MINUTES * sum(problem.weights) / problem.cases
    return [(hottest, usual[0][0], packing), *((hot, cold, share * (1 - packing)) for hot, cold, share in usual)]


def _anneal(
    tour: Tour, stops: NDArray[np.int64], thresholds: list[float], draw: np.random.Generator
) -> list[list[int]]:
    """As many random steps as there are thresholds, each taken where it makes the plan worse by less than its own."""
    moves, steps = [move for move, _ in MOVES], len(thresholds)
    kinds = draw.choice(len(MOVES), size=steps, p=[share for _, share in MOVES]).tolist()
    cases = draw.integers(len(stops), size=steps)
    nearby = stops[cases, draw.integers(stops.shape[1], size=steps)]
    anywhere = draw.integers(tour.end, size=steps)
    behind = np.where(draw.random(steps) < _FAR, anywhere, nearby).tolist()
    of, change_so_far, least, kept = tour.of, 0.0, 0.0, tour.after[:]
    for kind, case, stop, threshold in zip(kinds, cases.tolist(), behind, thresholds, strict=True):
        if of[stop] == NOBODY:
            continue
        move = moves[kind] if of[case] != NOBODY else take_in
        change = move(tour, case, stop, threshold)
        if change:
            change_so_far += change
            if change_so_far < least + _BETTER:
                least, kept = change_so_far, tour.after[:]
    tour.after = kept
    return tour.routes()


def _descended(problem: Problem, routes: Routes, stops: NDArray[np.int64]) -> list[list[int]]:
    """The plan after every small move that helps, tried in turn until none does."""
    tour = Tour(problem, routes)
    while _sweep(tour, stops):
        pass
    return tour.routes()


def _sweep(tour: Tour, stops: NDArray[np.int64]) -> bool:
    """Try every small move once, taking each that helps; whether any did."""
    helped = False
    for case, nearby in enumerate(stops.tolist()):
        for stop in nearby:
            for move in [move for move, _ in MOVES] if tour.of[case] != NOBODY else [take_in]:
                helped |= tour.of[stop] != NOBODY and move(tour, case, stop, _BETTER) != 0.0
    return helped


def _stops_nearby(problem: Problem) -> NDArray[np.int64]:
    """For each case (row) the stops worth being put behind: cases short of it, and starts of rovers soon there."""
    legs: NDArray[np.float64] = np.array(problem.legs, dtype=np.float64)
    np.fill_diagonal(legs, np.inf)
    first = np.full((problem.rovers, problem.cases), np.inf)
    for rover, allowed in enumerate(problem.may):
        first[rover, list(allowed)] = np.array(problem.first[rover])[list(allowed)]
    near = np.argsort(legs, axis=0, kind="stable")[: min(_NEAR_CASES, problem.cases - 1)]
    soon = np.argsort(first, axis=0, kind="stable")[:_NEAR_ROVERS] + problem.cases
    return np.vstack([near, soon]).T
