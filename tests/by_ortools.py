"""The same dispatch problem put to OR-Tools' routing solver: an outside opinion, for tests and the bench only."""

from ortools.constraint_solver import pywrapcp, routing_enums_pb2

from county.domain.dispatch_problem import Problem

_TENTHS, _HUNDREDTHS = 10, 100  # the solver counts in whole numbers: tenths of a minute, hundredths of a weight


def routes_by_ortools(problem: Problem, seconds: float) -> list[list[int]]:
    """What OR-Tools finds within so many seconds; for problems without shifts, spares or rovers on the way.

    Weighted arrival is a soft bound of 0 on the time at each case. Matrices in C++ and tabu search served best of what
    was tried (guided local search, annealing; other first plans). Arcs must cost something, so they cost their minutes,
    a hundredth of what the lightest weight counts.
    """
    cases, rovers, end = problem.cases, problem.rovers, problem.cases + problem.rovers
    starts = list(range(cases, end))
    manager = pywrapcp.RoutingIndexManager(end + 1, rovers, starts, [end] * rovers)
    routing = pywrapcp.RoutingModel(manager)
    minutes = _matrix(problem)
    routing.SetArcCostEvaluatorOfAllVehicles(routing.RegisterTransitMatrix(minutes))
    routing.AddDimension(routing.RegisterTransitMatrix(minutes), 0, 10**8, True, "minutes")
    dimension = routing.GetDimensionOrDie("minutes")
    for case in range(cases):
        index = manager.NodeToIndex(case)
        dimension.SetCumulVarSoftUpperBound(index, 0, round(problem.weights[case] * _HUNDREDTHS))
        able = [rover for rover in range(rovers) if case in problem.may[rover]]
        routing.VehicleVar(index).SetValues([-1, *able])
    parameters = pywrapcp.DefaultRoutingSearchParameters()
    parameters.first_solution_strategy = routing_enums_pb2.FirstSolutionStrategy.PARALLEL_CHEAPEST_INSERTION
    parameters.local_search_metaheuristic = routing_enums_pb2.LocalSearchMetaheuristic.TABU_SEARCH
    parameters.time_limit.FromMilliseconds(round(seconds * 1000))
    found = routing.SolveWithParameters(parameters)
    assert found is not None, "OR-Tools found no plan"
    return [_route(routing, manager, found, rover, cases) for rover in range(rovers)]


def _matrix(problem: Problem) -> list[list[int]]:
    """Between arrivals: minutes on site at the one and the way to the other; ending a route takes nothing."""
    nothing = [0] * (problem.rovers + 1)
    between = [
        [round((spent + way) * _TENTHS) for way in row]
        for spent, row in zip(problem.service, problem.legs, strict=True)
    ]
    for case, row in enumerate(between):
        row[case] = 0
    first = [[round(way * _TENTHS) for way in row] for row in problem.first]
    return [[*row, *nothing] for row in [*between, *first, [0] * problem.cases]]


def _route(
    routing: "pywrapcp.RoutingModel",
    manager: "pywrapcp.RoutingIndexManager",
    found: "pywrapcp.Assignment",
    rover: int,
    cases: int,
) -> list[int]:
    index, stops = routing.Start(rover), []
    while not routing.IsEnd(index):
        node = manager.IndexToNode(index)
        if node < cases:
            stops.append(node)
        index = found.Value(routing.NextVar(index))
    return stops
