"""Why this rover and not another, in a sentence the desk can check."""

from county.domain.cases import State
from county.domain.dispatch_field import Field, lacks
from county.domain.dispatch_problem import Routes, arrivals
from county.domain.dispatch_settings import Need
from county.domain.rovers_now import Means, RoverNow


def why(found: Field, who: int, position: int, routes: Routes, means: Means) -> str:
    """Why the rover makes this stop: `nearest free rover with a spare printer, 9 min; next best 14`."""
    case, rover = routes[who][position], found.rovers[who]
    at = arrivals(found.problem, who, routes[who])[position]
    minutes = f"{at:.0f} min" + (f", after {_place(found, routes[who][position - 1], means)}" if position else "")
    if rover.heading == found.cases[case].case and position == 0:
        return f"under way there already, {minutes}"
    if found.assigned[case] == who and found.cases[case].state is State.ASSIGNED:
        return f"assigned by the desk, {minutes}"
    turned = _turned(found, who, means) if position == 0 else ""
    others = [(soonest, other) for soonest, other in found.soonest(case) if other != who]
    fit = _fit(found.needs[case])
    if not others:
        return f"the only rover{fit}, {minutes}{turned}"
    soonest, other = others[0]
    if soonest >= at and not position:
        nearest = "nearest free rover" if rover.idle else "soonest rover"
        return f"{nearest}{fit}, {minutes}{_until_free(rover)}; next best {soonest:.0f}{turned}"
    name = found.rovers[other].rover.name or found.rovers[other].rover.rover
    if soonest >= at:
        return f"{minutes}; no other rover{fit} sooner, next best {name} in {soonest:.0f}"
    there = f"could be there in {soonest:.0f}" if soonest >= 0.5 else "is there now"
    return f"{minutes}; {name} {there} but {_busy(found, other, routes, means)}{turned}"


def why_not(found: Field, case: int, means: Means) -> str:
    """Why nobody goes to a case that wants somebody: `no rover with a spare printer`."""
    fit, missing = (
        _fit(found.needs[case]),
        {lacks(rover, found.cases[case], found.needs[case], means) for rover in found.rovers},
    )
    if not found.rovers:
        return "no rover to send"
    if any(case in may for may in found.problem.may):
        in_time = found.soonest(case)
        return (
            f"every rover{fit} is needed elsewhere" if in_time else f"no rover{fit} would be done before its shift ends"
        )
    if "" in missing:
        return f"the rovers{fit} cannot"
    return f"no rover{fit}" + (f" in zone {_zone(found, case, means)}" if "zone" in missing else "")


def _fit(need: Need) -> str:
    """What a rover must have for this, as it stands behind the word rover."""
    carried = f"a spare {need.spare}" if need.used_up else need.spare
    wanted = [part for part in (f"{need.skill} skill" if need.skill else "", carried) if part]
    return f" with {' and '.join(wanted)}" if wanted else ""


def _until_free(rover: RoverNow) -> str:
    if rover.on_site:
        return f" (on site elsewhere for another {rover.free_in:.0f})"
    return f" (its shift begins in {rover.free_in:.0f})" if rover.free_in > 0 else ""


def _turned(found: Field, who: int, means: Means) -> str:
    goal = found.problem.heading[who]
    return "" if goal is None else f"; it is under way to {_place(found, goal, means)} and would be turned"


def _busy(found: Field, who: int, routes: Routes, means: Means) -> str:
    """What the nearer rover does instead."""
    if not routes[who]:
        return "is not sent"
    going = found.rovers[who].heading == found.cases[routes[who][0]].case
    return f"{'is under way to' if going else 'goes to'} {_place(found, routes[who][0], means)} first"


def _place(found: Field, case: int, means: Means) -> str:
    place = means.roster.place_by_id.get(found.cases[case].place)
    return place.name if place else found.cases[case].place


def _zone(found: Field, case: int, means: Means) -> str:
    place = means.roster.place_by_id.get(found.cases[case].place)
    return place.zone if place else ""
