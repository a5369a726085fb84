"""First plans: what a person does by habit, and waves of best assignments."""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from county.domain.dispatch_problem import Problem, carries_enough

_NEVER = 1e9  # an assignment that is not allowed; far above any that is, far below where sums lose their small parts
_AHEAD_MINUTES = 20.0  # roughly what a case waits longer when it is left for the next wave


def by_habit(problem: Problem, order: Sequence[int] | None = None) -> list[list[int]]:
    """What a person at the desk does: the worst case first, to whoever can be there first, and so on.

    `order` is the order in which cases are looked at; by weight, heaviest first, where not given. It is the plan the
    search is measured against.
    """
    routes: list[list[int]] = [[] for _ in range(problem.rovers)]
    free_at = [0.0] * problem.rovers
    for case in order if order is not None else sorted(range(problem.cases), key=lambda each: -problem.weights[each]):
        offers = [(_arrival(problem, rover, route, free_at[rover], case), rover) for rover, route in enumerate(routes)]
        arrives_at, rover = min(offers, default=(math.inf, 0))
        if arrives_at < math.inf:
            routes[rover].append(case)
            free_at[rover] = arrives_at + problem.service[case]
    return routes


def by_waves(problem: Problem) -> list[list[int]]:
    """One more stop for every rover at a time, each wave the best assignment of rovers to the cases still waiting.

    A wave has to choose whom to leave for later: a pair is worth the weighted minutes it saves against waiting for the
    next wave, and short stops come before long ones of the same weight, as Smith's rule (1956) has it.
    """
    routes: list[list[int]] = [[] for _ in range(problem.rovers)]
    free_at = [0.0] * problem.rovers
    waiting = list(range(problem.cases))
    while waiting:
        served = _wave(problem, routes, free_at, waiting)
        if not served:
            break
        waiting = [case for case in waiting if case not in served]
    return routes


def _wave(problem: Problem, routes: list[list[int]], free_at: list[float], waiting: Sequence[int]) -> set[int]:
    """Give every rover at most one more stop; the cases that were served."""
    # half a second to import, which a board that has just been started need not wait for
    from scipy.optimize import linear_sum_assignment

    arrives = np.array(
        [
            [_arrival(problem, rover, route, free_at[rover], case) for case in waiting]
            for rover, route in enumerate(routes)
        ]
    )
    served: set[int] = set()
    if not np.isfinite(arrives).any():
        return served
    for rover, column in zip(*linear_sum_assignment(_worth(problem, arrives, waiting)), strict=True):
        if np.isfinite(arrives[rover, column]):
            case = waiting[column]
            routes[rover].append(case)
            free_at[rover] = float(arrives[rover, column]) + problem.service[case]
            served.add(case)
    return served


def _worth(problem: Problem, arrives: NDArray[np.float64], waiting: Sequence[int]) -> NDArray[np.float64]:
    """What each pair costs beside leaving the case for the next wave; below 0 where it saves."""
    allowed = np.isfinite(arrives)
    next_wave = arrives[allowed].mean() + _AHEAD_MINUTES
    weights = np.array([problem.weights[case] for case in waiting])
    spent = np.array([max(problem.service[case], 1.0) for case in waiting])
    worth: NDArray[np.float64] = np.full_like(arrives, _NEVER)
    np.multiply(arrives - next_wave, weights / spent**0.3, out=worth, where=allowed)
    return worth


def _arrival(problem: Problem, rover: int, route: Sequence[int], free_at: float, case: int) -> float:
    """When the rover would arrive if this were its next stop; infinite where it may not go, or not so late."""
    if case not in problem.may[rover]:
        return math.inf
    arrives_at = free_at + problem.legs[route[-1]][case] if route else problem.first[rover][case]
    if arrives_at + problem.service[case] > problem.until[rover]:
        return math.inf
    if problem.uses[case] and not carries_enough(problem, rover, [*route, case]):
        return math.inf
    return arrives_at
