"""A dispatch plan being improved: chains of stops with running sums, so that a change is priced without a walk."""

from collections.abc import Sequence

from county.domain.dispatch_problem import Problem, Routes, carries_enough

NOBODY = -1


class Tour:
    """Every rover's chain of stops. Cases are nodes 0 … n−1, rover r starts at node n + r, every chain ends at `end`.

    `legs[a][b]` is what lies between the arrivals at a and b: the minutes on site at a and the way. For each case:
    `after` and `before` it, `at` (minutes of arrival), `rank` in its chain, `tail` (weight of it and all behind it) and
    the rover it is `of`, NOBODY where it is left out. `done[r]` is when rover r has finished. `rows` are six of these
    in one, because a move that looks up each by name spends a part of its time on that.
    """

    __slots__ = (
        "after",
        "at",
        "before",
        "done",
        "end",
        "fees",
        "legs",
        "of",
        "problem",
        "rank",
        "rows",
        "starts",
        "tail",
        "uses_spares",
    )

    def __init__(self, problem: Problem, routes: Routes) -> None:
        cases, rovers = problem.cases, problem.rovers
        self.problem = problem
        self.uses_spares = any(problem.uses)
        self.starts = cases
        self.end = end = cases + rovers
        self.legs = [
            *([spent + way for way in row] + [0.0] * rovers + [spent] for spent, row in _with_service(problem)),
            *([*row, *([0.0] * (rovers + 1))] for row in problem.first),
        ]
        self.fees = {
            cases + rover: [problem.turn_cost * (node != goal) for node in range(end + 1)]
            for rover, goal in enumerate(problem.heading)
            if goal is not None
        }
        self.after, self.before, self.rank = ([end] * (end + 1) for _ in range(3))
        self.of = [NOBODY] * (end + 1)
        self.at, self.tail = [0.0] * (end + 1), [0.0] * (end + 1)
        self.done = [0.0] * rovers
        self.rows = self.after, self.before, self.legs, self.at, self.tail, self.of
        for rover, route in enumerate(routes):
            self.lay(rover, route)

    def lay(self, rover: int, route: Sequence[int]) -> None:
        """Give a rover these stops in this order."""
        node = self.starts + rover
        for case in route:
            self.after[node] = case
            node = case
        self.after[node] = self.end
        self.walk(rover)

    def walk(self, rover: int) -> None:
        """Bring one chain's running sums up to date after its links (`after`) were changed."""
        after, at, legs, end, weights = self.after, self.at, self.legs, self.end, self.problem.weights
        node, minute, chain = self.starts + rover, 0.0, []
        self.of[node] = rover
        self.rank[node] = 0
        while (case := after[node]) != end:
            minute += legs[node][case]
            at[case] = minute
            self.before[case] = node
            self.of[case] = rover
            chain.append(case)
            self.rank[case] = len(chain)
            node = case
        self.done[rover] = minute + legs[node][end]
        behind = 0.0
        for case in reversed(chain):
            behind += weights[case]
            self.tail[case] = behind

    def route(self, rover: int) -> list[int]:
        """One rover's stops in order."""
        return self.onward(self.after[self.starts + rover])

    def routes(self) -> list[list[int]]:
        """All rovers' stops in order."""
        return [self.route(rover) for rover in range(self.problem.rovers)]

    def onward(self, node: int) -> list[int]:
        """This stop and those behind it."""
        stops = []
        while node != self.end:
            stops.append(node)
            node = self.after[node]
        return stops

    def up_to(self, node: int) -> list[int]:
        """The stops of a chain up to this node and with it."""
        stops = []
        while node < self.starts:
            stops.append(node)
            node = self.before[node]
        return stops[::-1]

    def fits(self, rover: int, route: list[int], done: float) -> bool:
        """Whether the rover may take this route, done at that minute: skill, spare, zone and shift."""
        problem = self.problem
        return (
            done <= problem.until[rover]
            and problem.may[rover].issuperset(route)
            and (not self.uses_spares or carries_enough(problem, rover, route))
        )


def _with_service(problem: Problem) -> list[tuple[float, list[float]]]:
    return [(spent, list(row)) for spent, row in zip(problem.service, problem.legs, strict=True)]
