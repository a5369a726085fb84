"""Small changes to a dispatch plan, each priced from running sums and made only where it costs less than a threshold.

Every move takes the tour, a case, the stop (another case or a rover's start) it should come right behind, and the
threshold; it returns by how much the plan's cost changed, 0.0 where it left the plan alone.
"""

from county.domain.dispatch_problem import LEFT_OUT_MINUTES, done_at, route_cost
from county.domain.dispatch_tour import NOBODY, Tour


def move_one(tour: Tour, case: int, stop: int, threshold: float) -> float:
    """Put the case right behind the stop, in the same chain or another."""
    return _move_run(tour, case, case, stop, threshold)


def move_two(tour: Tour, case: int, stop: int, threshold: float) -> float:
    """Put the case and the one behind it right behind the stop."""
    last = tour.after[case]
    return 0.0 if last == tour.end or last == stop else _move_run(tour, case, last, stop, threshold)


def move_three(tour: Tour, case: int, stop: int, threshold: float) -> float:
    """Put the case and the two behind it right behind the stop."""
    middle = tour.after[case]
    if middle == tour.end or middle == stop:
        return 0.0
    last = tour.after[middle]
    return 0.0 if last == tour.end or last == stop else _move_run(tour, case, last, stop, threshold)


def _move_run(tour: Tour, case: int, last: int, stop: int, threshold: float) -> float:
    after, before, legs, at, tail, of = tour.rows
    left = before[case]
    if stop in (left, case):
        return 0.0
    right, behind = after[last], after[stop]
    giver, taker = of[case], of[stop]
    inside, run = at[last] - at[case], tail[case] - tail[right]
    gap = legs[left][right] - legs[left][case] - inside - legs[last][right]
    leaves_at, moved_up = at[stop], tail[behind]
    if giver == taker:
        if tour.rank[stop] > tour.rank[case]:
            leaves_at += gap
        else:
            moved_up -= run
    arrives_at = leaves_at + legs[stop][case]
    stretch = legs[stop][case] + inside + legs[last][behind] - legs[stop][behind]
    change = run * (arrives_at - at[case]) + tail[right] * gap + moved_up * stretch
    fees = tour.fees
    if fees and left in fees:
        change += fees[left][right] - fees[left][case]
    if fees and stop in fees:
        change += fees[stop][case] - fees[stop][behind]
    if change > threshold:
        return 0.0
    if giver == taker:
        if tour.done[giver] + gap + stretch > tour.problem.until[giver]:
            return 0.0
    else:
        moved = tour.up_to(last)[tour.rank[case] - 1 :]
        if not tour.fits(taker, [*tour.route(taker), *moved], tour.done[taker] + stretch):
            return 0.0
    after[left], after[stop], after[last] = right, case, behind
    tour.walk(giver)
    if giver != taker:
        tour.walk(taker)
    return change


def swap(tour: Tour, case: int, stop: int, threshold: float) -> float:
    """Change places with what comes right behind the stop in another chain; within one chain, turn round."""
    after, before, legs, at, tail, of = tour.rows
    other, mine, theirs = after[stop], of[case], of[stop]
    if mine == theirs:
        return _turn_round(tour, case, stop, threshold)
    if other == tour.end:
        return 0.0
    left, right, behind = before[case], after[case], after[other]
    here = at[left] + legs[left][other]
    there = at[stop] + legs[stop][case]
    shift_here = here + legs[other][right] - at[case] - legs[case][right]
    shift_there = there + legs[case][behind] - at[other] - legs[other][behind]
    weights = tour.problem.weights
    change = (
        weights[other] * (here - at[other])
        + tail[right] * shift_here
        + weights[case] * (there - at[case])
        + tail[behind] * shift_there
    )
    fees = tour.fees
    if fees and left in fees:
        change += fees[left][other] - fees[left][case]
    if fees and stop in fees:
        change += fees[stop][case] - fees[stop][other]
    if change > threshold:
        return 0.0
    my_route = [other if each == case else each for each in tour.route(mine)]
    their_route = [case if each == other else each for each in tour.route(theirs)]
    if not tour.fits(mine, my_route, tour.done[mine] + shift_here) or not tour.fits(
        theirs, their_route, tour.done[theirs] + shift_there
    ):
        return 0.0
    after[left], after[other], after[stop], after[case] = other, right, case, behind
    tour.walk(mine)
    tour.walk(theirs)
    return change


def cross(tour: Tour, case: int, stop: int, threshold: float) -> float:
    """Let the case and what is behind it change places with what is behind the stop; within one chain, turn round."""
    after, before, legs, at, tail, of = tour.rows
    mine, theirs = of[case], of[stop]
    if mine == theirs:
        return _turn_round(tour, case, stop, threshold)
    left, behind = before[case], after[stop]
    shift = at[stop] + legs[stop][case] - at[case]
    change = tail[case] * shift
    shift_back = 0.0
    if behind != tour.end:
        shift_back = at[left] + legs[left][behind] - at[behind]
        change += tail[behind] * shift_back
    fees = tour.fees
    if fees and left in fees:
        change += fees[left][behind] - fees[left][case]
    if fees and stop in fees:
        change += fees[stop][case] - fees[stop][behind]
    if change > threshold:
        return 0.0
    my_route, their_route = tour.up_to(left) + tour.onward(behind), tour.up_to(stop) + tour.onward(case)
    my_done = tour.done[theirs] + shift_back if behind != tour.end else at[left] + legs[left][tour.end]
    if not tour.fits(theirs, their_route, tour.done[mine] + shift) or not tour.fits(mine, my_route, my_done):
        return 0.0
    after[stop], after[left] = case, behind
    tour.walk(mine)
    tour.walk(theirs)
    return change


def _turn_round(tour: Tour, case: int, stop: int, threshold: float) -> float:
    """Go from the stop straight to the case, and take what lay between in the other direction."""
    after, before, legs, at = tour.after, tour.before, tour.legs, tour.at
    first = after[stop]
    if first == case or tour.rank[stop] >= tour.rank[case]:
        return 0.0
    weights, right = tour.problem.weights, after[case]
    minute, node, to, change = at[stop], stop, case, 0.0
    while node != first:
        minute += legs[node][to]
        change += weights[to] * (minute - at[to])
        node, to = to, before[to]
    shift = minute + legs[first][right] - (at[right] if right != tour.end else tour.done[tour.of[case]])
    change += tour.tail[right] * shift
    if stop in tour.fees:
        change += tour.fees[stop][case] - tour.fees[stop][first]
    if change > threshold or tour.done[tour.of[case]] + shift > tour.problem.until[tour.of[case]]:
        return 0.0
    node, to = stop, case
    while node != first:
        after[node] = to
        node, to = to, before[to]
    after[first] = right
    tour.walk(tour.of[case])
    return change


def take_in(tour: Tour, case: int, stop: int, threshold: float) -> float:
    """Put a case that was left out right behind the stop; where that does not fit, leave out another of its chain."""
    rover, problem = tour.of[stop], tour.problem
    route = tour.route(rover)
    place = tour.rank[stop]
    longer = [*route[:place], case, *route[place:]]
    for other in (None, *route):
        changed = [each for each in longer if each != other]
        if not tour.fits(rover, changed, done_at(problem, rover, changed)):
            continue
        swapped = problem.weights[case] - (problem.weights[other] if other is not None else 0.0)
        change = route_cost(problem, rover, changed) - route_cost(problem, rover, route) - swapped * LEFT_OUT_MINUTES
        if change <= threshold:
            tour.lay(rover, changed)
            if other is not None:
                tour.of[other] = NOBODY
            return change
    return 0.0
