"""The best plan of all, found by trying every one, where there are so few cases that this is quick."""

import math

from county.domain.dispatch_problem import LEFT_OUT_MINUTES, Problem, carries_enough

_MOST_ROUTES = 40_000  # tried in about a tenth of a second: six cases with twenty rovers

Route = tuple[int, ...]
Plan = tuple[float, tuple[Route, ...]]


def few_enough(problem: Problem) -> bool:
    """Whether trying every plan is quick."""
    orders = sum(math.perm(problem.cases, stops) for stops in range(min(problem.cases, 8) + 1))
    return problem.cases <= 8 and problem.rovers * orders <= _MOST_ROUTES


def solve(problem: Problem) -> list[list[int]]:
    """A plan that costs the least of all plans which keep the hard limits.

    For each rover the cheapest order of every set of stops, then the cheapest way to share the cases out, rover by
    rover. Sets are bit masks. Of plans that cost the same the first found is taken, so the answer is always the same.
    """
    plans: dict[int, Plan] = {0: (0.0, ())}
    for rover in range(problem.rovers):
        plans = _shared_out(plans, _best_orders(problem, rover))
    weight = sum(problem.weights)
    _, routes = min(
        (waited + LEFT_OUT_MINUTES * (weight - _weight(problem, served)), routes)
        for served, (waited, routes) in plans.items()
    )
    return [list(route) for route in routes]


def _shared_out(plans: dict[int, Plan], orders: dict[int, tuple[float, Route]]) -> dict[int, Plan]:
    """Every set of cases the rovers so far and one more can serve, at its least cost."""
    shared: dict[int, Plan] = {}
    for served, (waited, routes) in plans.items():
        for stops, (more, route) in orders.items():
            both = served | stops
            if not served & stops and (both not in shared or waited + more < shared[both][0]):
                shared[both] = (waited + more, (*routes, route))
    return shared


def _best_orders(problem: Problem, rover: int) -> dict[int, tuple[float, Route]]:
    """For each set of stops this rover can make, the least it costs and the order."""
    goal = problem.heading[rover]
    idle = 0.0 if goal is None else problem.turn_cost
    best: dict[int, tuple[float, Route]] = {0: (idle, ())}
    open_ends: list[tuple[float, float, Route]] = [(0.0, 0.0, ())]
    while open_ends:
        waited, leaves_at, route = open_ends.pop()
        for case in sorted(problem.may[rover].difference(route)):
            arrives_at = leaves_at + problem.legs[route[-1]][case] if route else problem.first[rover][case]
            done, longer = arrives_at + problem.service[case], (*route, case)
            if done > problem.until[rover] or not carries_enough(problem, rover, longer):
                continue
            turned = idle if not route and case != goal else 0.0
            costs = waited + turned + problem.weights[case] * arrives_at
            stops = sum(1 << each for each in longer)
            if stops not in best or costs < best[stops][0]:
                best[stops] = (costs, longer)
            open_ends.append((costs, done, longer))
    return best


def _weight(problem: Problem, served: int) -> float:
    return sum(weight for case, weight in enumerate(problem.weights) if served >> case & 1)
