"""Which rover to which case, in which order, and why: always a suggestion, the desk decides."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from types import MappingProxyType

from county.domain.cases import Case
from county.domain.dispatch_exact import few_enough, solve
from county.domain.dispatch_field import Barred, Field, the_field
from county.domain.dispatch_first import by_habit, by_waves
from county.domain.dispatch_problem import Problem, arrivals, cost
from county.domain.dispatch_reasons import why, why_not
from county.domain.dispatch_search import improve
from county.domain.dispatch_settings import DispatchSettings
from county.domain.plan import Plan
from county.domain.roster import Roster
from county.domain.rovers_now import Means, RoverNow
from county.domain.travel import Travel


@dataclass(frozen=True, slots=True)
class Stop:
    """One case on a rover's way: minutes from now to arrival, when that is, and why this rover, in a sentence."""

    case: str
    place: str
    rover: str
    minutes: float
    arrives_at: datetime
    why: str


@dataclass(frozen=True, slots=True)
class Offer:
    """A rover that may take a case, and the minutes until it would be there if it went there next."""

    rover: str
    minutes: float


@dataclass(frozen=True)
class Dispatch:
    """A suggestion for every rover and every case that wants one.

    `stops` are each rover's in order (a rover with none is there too), `left_out` says why nobody goes to a case that
    wants somebody, and `offers` are all who may take a case, soonest first, for the desk to choose another. `cost` is
    the sum over cases of weight × minutes to arrival; `habit_cost` the same for worst first and nearest free. `remark`
    is what the desk should know of all of it.
    """

    rovers: tuple[RoverNow, ...]
    stops: Mapping[str, tuple[Stop, ...]]
    left_out: Mapping[str, str]
    offers: Mapping[str, tuple[Offer, ...]]
    cost: float
    habit_cost: float
    best_of_all: bool = field(default=False)
    remark: str = ""

    def stop_for(self, case: str) -> Stop | None:
        """The stop that serves a case, or None where none does."""
        return next((stop for stops in self.stops.values() for stop in stops if stop.case == case), None)


def suggest(
    cases: Iterable[Case],
    roster: Roster,
    plan: Plan,
    settings: DispatchSettings,
    now: datetime,
    *,
    barred: Barred | None = None,
) -> Dispatch:
    """Who should go where next, from the county's cases as they stand `now` (aware UTC), open and ended alike.

    Minimises the sum over cases of weight(effect) × expected minutes to arrival. Hard limits are skill, spare, shift,
    and zone if the settings say so. Few cases are solved outright (`best_of_all`), more by assignment waves improved by
    a seeded search, so the same cases and seed give the same suggestion.
    """
    means = Means(roster, plan.election, settings, Travel.by(settings))
    found = the_field(cases, means, now, barred or Barred())
    outright = few_enough(found.problem)
    routes = solve(found.problem) if outright else _searched(found.problem, settings)
    served = {case for route in routes for case in route}
    return Dispatch(
        rovers=found.rovers,
        stops=MappingProxyType(
            {rover.rover.rover: _stops(found, who, routes, means, now) for who, rover in enumerate(found.rovers)}
        ),
        left_out=MappingProxyType(
            {
                case.case: why_not(found, number, means)
                for number, case in enumerate(found.cases)
                if number not in served
            }
        ),
        offers=MappingProxyType({case.case: _offers(found, number) for number, case in enumerate(found.cases)}),
        cost=cost(found.problem, routes),
        habit_cost=cost(found.problem, by_habit(found.problem, range(found.problem.cases))),
        best_of_all=outright,
    )


def _searched(problem: Problem, settings: DispatchSettings) -> list[list[int]]:
    return improve(problem, by_waves(problem), settings.steps, settings.seed)


def _stops(found: Field, who: int, routes: list[list[int]], means: Means, now: datetime) -> tuple[Stop, ...]:
    minutes = arrivals(found.problem, who, routes[who])
    return tuple(
        Stop(
            case=found.cases[number].case,
            place=found.cases[number].place,
            rover=found.rovers[who].rover.rover,
            minutes=at,
            arrives_at=now + timedelta(minutes=at),
            why=why(found, who, position, routes, means),
        )
        for position, (number, at) in enumerate(zip(routes[who], minutes, strict=True))
    )


def _offers(found: Field, case: int) -> tuple[Offer, ...]:
    return tuple(Offer(found.rovers[who].rover.rover, minutes) for minutes, who in found.soonest(case))
