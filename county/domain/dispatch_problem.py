"""Which rover to which case, as bare numbers: what counts, what is allowed, and what a plan costs."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

Routes = Sequence[Sequence[int]]  # for each rover the cases in the order of its stops

LEFT_OUT_MINUTES = 10_000.0  # a case that nobody goes to counts as waiting about a week: served if it can be at all


@dataclass(frozen=True, slots=True)
class Problem:
    """Cases 0 … n−1 and rovers 0 … m−1; all times in minutes from now.

    `weights[c]` and `service[c]` (minutes on site) of each case; `first[r][c]` when rover r, free of what holds it now,
    arrives at case c if it goes there first; `legs[c][d]` from one case to the next. `may[r]` are the cases rover r has
    skill, spare and zone for, `until[r]` when its last stop must be done. `uses[c]` names the spare the case uses up
    ("" for none) and `spares[r]` how many of each rover r has. `heading[r]` is the case rover r is under way to
    (None: it is not); a plan in which it does not go there first costs `turn_cost` more.
    """

    weights: Sequence[float]
    service: Sequence[float]
    first: Sequence[Sequence[float]]
    legs: Sequence[Sequence[float]]
    may: Sequence[frozenset[int]]
    until: Sequence[float]
    uses: Sequence[str]
    spares: Sequence[Mapping[str, int]]
    heading: Sequence[int | None]
    turn_cost: float = 0.0

    @property
    def cases(self) -> int:
        return len(self.weights)

    @property
    def rovers(self) -> int:
        return len(self.first)


def arrivals(problem: Problem, rover: int, route: Sequence[int]) -> list[float]:
    """Minutes from now until the rover arrives at each stop of its route."""
    at: list[float] = []
    for case in route:
        before = at[-1] + problem.service[route[len(at) - 1]] + problem.legs[route[len(at) - 1]][case] if at else None
        at.append(problem.first[rover][case] if before is None else before)
    return at


def route_cost(problem: Problem, rover: int, route: Sequence[int]) -> float:
    """The sum over one rover's stops of weight × minutes to arrival, and what it costs if the rover is turned."""
    goal = problem.heading[rover]
    turned = 0.0 if goal is None or goal in route[:1] else problem.turn_cost
    at = arrivals(problem, rover, route)
    return turned + sum(problem.weights[case] * minutes for case, minutes in zip(route, at, strict=True))


def done_at(problem: Problem, rover: int, route: Sequence[int]) -> float:
    """Minutes from now until the rover has finished its last stop; 0 where it has none."""
    return arrivals(problem, rover, route)[-1] + problem.service[route[-1]] if route else 0.0


def cost(problem: Problem, routes: Routes) -> float:
    """The sum over cases of weight × minutes to arrival, with what is left out and who is turned charged for."""
    served = {case for route in routes for case in route}
    left_out = sum(weight * LEFT_OUT_MINUTES for case, weight in enumerate(problem.weights) if case not in served)
    return left_out + sum(route_cost(problem, rover, route) for rover, route in enumerate(routes))


def holds(problem: Problem, routes: Routes) -> bool:
    """Whether a plan keeps every hard limit: each case once at most, skill, spare, zone, and the end of the shift."""
    stops = [case for route in routes for case in route]
    return len(stops) == len(set(stops)) and all(
        _route_holds(problem, rover, route) for rover, route in enumerate(routes)
    )


def _route_holds(problem: Problem, rover: int, route: Sequence[int]) -> bool:
    return (
        problem.may[rover].issuperset(route)
        and carries_enough(problem, rover, route)
        and (not route or done_at(problem, rover, route) <= problem.until[rover])
    )


def carries_enough(problem: Problem, rover: int, route: Sequence[int]) -> bool:
    """Whether what the route's cases use up is carried often enough."""
    used = [problem.uses[case] for case in route if problem.uses[case]]
    return all(used.count(spare) <= problem.spares[rover].get(spare, 0) for spare in used)
