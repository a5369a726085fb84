"""The cases that want a rover and the rovers there are, set out as a dispatch problem."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from county.domain.cases import Case, State, worst_first
from county.domain.dispatch_problem import Problem
from county.domain.dispatch_settings import DispatchSettings, Need
from county.domain.effects import Effect
from county.domain.rovers_now import Means, RoverNow, rovers_now, spot_of


@dataclass(frozen=True)
class Field:
    """The problem in numbers, and which case and rover each number stands for."""

    problem: Problem
    cases: tuple[Case, ...]
    needs: tuple[Need, ...]
    rovers: tuple[RoverNow, ...]
    assigned: tuple[int | None, ...]

    def soonest(self, case: int) -> list[tuple[float, int]]:
        """Minutes until each rover that may take the case would be there if it went next, and the rover; soonest first.

        Only those that would be done before the end of their shift.
        """
        first, spent = self.problem.first, self.problem.service[case]
        return sorted(
            (first[who][case], who)
            for who, may in enumerate(self.problem.may)
            if case in may and first[who][case] + spent <= self.problem.until[who]
        )


@dataclass(frozen=True)
class Barred:
    """What stands in no roster: rovers not to be sent at all, and (case, rover) pairs that cannot be."""

    away: frozenset[str] = frozenset()
    cannot: frozenset[tuple[str, str]] = frozenset()


def the_field(cases: Iterable[Case], means: Means, now: datetime, barred: Barred) -> Field:
    """Set out every open case that wants somebody to come, worst first, and every rover that is not away.

    A case the desk has assigned is for that rover alone, whatever the limits say: a person has decided. A case a rover
    is under way to may go to another, but at a price (`turn_minutes`). A case somebody is on site for only keeps that
    rover busy.
    """
    every, settings = tuple(cases), means.settings
    rovers = tuple(each for each in rovers_now(every, means, now) if each.rover.rover not in barred.away)
    index = {each.rover.rover: number for number, each in enumerate(rovers)}
    wanting = tuple(sorted((case for case in every if _wants_a_rover(case, settings, index)), key=worst_first))
    needs = tuple(settings.need(case.exception) for case in wanting)
    assigned = tuple(None if (c.case, c.rover) in barred.cannot else index.get(c.rover) for c in wanting)
    spots = [spot_of(case.place, means.roster.place_by_id) for case in wanting]
    number = {case.case: each for each, case in enumerate(wanting)}
    problem = Problem(
        weights=[settings.weights[case.effect] for case in wanting],
        service=[need.minutes for need in needs],
        first=[rover.minutes_to(spots, means.travel) for rover in rovers],
        legs=means.travel.table(spots, spots).tolist(),
        may=[
            frozenset(
                each
                for each, (case, need) in enumerate(zip(wanting, needs, strict=True))
                if (case.case, rover.rover.rover) not in barred.cannot
                and _may(rover, who, case, need, assigned[each], means)
            )
            for who, rover in enumerate(rovers)
        ],
        until=[rover.until for rover in rovers],
        uses=[need.spare.casefold() if need.used_up else "" for need in needs],
        spares=_spares(rovers, needs, assigned),
        heading=[number.get(rover.heading) for rover in rovers],
        turn_cost=settings.turn_minutes * settings.weights[Effect.STOPPED],
    )
    return Field(problem, wanting, needs, rovers, assigned)


def lacks(rover: RoverNow, case: Case, need: Need, means: Means) -> str:
    """What keeps a rover from a case: `skill`, `spare` or `zone`; empty where nothing does."""
    if need.skill and need.skill.casefold() not in _words(rover.rover.skills):
        return "skill"
    if need.spare and need.spare.casefold() not in _words(rover.rover.carries):
        return "spare"
    place = means.roster.place_by_id.get(case.place)
    zones = {place.zone if place else "", rover.rover.zone}
    return "zone" if means.settings.keep_zones and "" not in zones and len(zones) > 1 else ""


def _wants_a_rover(case: Case, settings: DispatchSettings, rovers: Mapping[str, int]) -> bool:
    """Whether anybody has still to go there: the kind asks for it, or the desk has sent somebody."""
    if not case.state.open or case.state is State.ON_SITE:
        return False
    if case.rover in rovers:
        return True
    return settings.need(case.exception).rover and (settings.into_danger or case.effect is not Effect.DANGER)


def _may(rover: RoverNow, who: int, case: Case, need: Need, assigned: int | None, means: Means) -> bool:
    if assigned == who:
        return True
    return (assigned is None or case.state is not State.ASSIGNED) and not lacks(rover, case, need, means)


def _spares(rovers: Sequence[RoverNow], needs: Sequence[Need], assigned: Sequence[int | None]) -> list[dict[str, int]]:
    """How many of each spare a rover has: as often as the roster names it, and whatever the desk's own word takes."""
    spares = [dict(Counter(_words(rover.rover.carries))) for rover in rovers]
    taken: Counter[tuple[int, str]] = Counter()
    for who, need in zip(assigned, needs, strict=True):
        if who is not None and need.used_up:
            taken[who, need.spare.casefold()] += 1
    for (who, spare), count in taken.items():
        spares[who][spare] = max(spares[who].get(spare, 0), count)
    return spares


def _words(words: Iterable[str]) -> list[str]:
    return [word.casefold() for word in words]
