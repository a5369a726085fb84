"""Every rover as the board shows it at one moment, and the cases that want somebody."""

from dataclasses import dataclass
from enum import IntEnum

from county.domain.cases import Case
from county.domain.dispatch import Stop
from county.domain.effects import Effect
from county.domain.rovers_now import Means, RoverNow, rovers_now
from county.domain.travel import Travel
from dashboard.board_now import Board


class Doing(IntEnum):
    """What a rover does, those who can be sent first."""

    FREE = 0
    ASKED = 1
    UNDER_WAY = 2
    ON_SITE = 3
    OFF = 4


@dataclass(frozen=True, slots=True)
class OnTheRoad:
    """One rover: `case` is what it is at or under way to, `stops` what it is to do next, suggested or assigned.

    `assigned` are further cases it was given of which the newest suggestion does not know yet.
    """

    now: RoverNow
    doing: Doing
    case: Case | None
    stops: tuple[Stop, ...]
    assigned: tuple[Case, ...] = ()

    @property
    def rover(self) -> str:
        return self.now.rover.rover


def on_the_road(board: Board) -> tuple[OnTheRoad, ...]:
    """Every rover of the roster: who can be sent first, then whoever arrives or is free again soonest."""
    settings = board.plan.dispatch
    means = Means(board.roster, board.plan.election, settings, Travel.by(settings))
    rovers = [_on_the_road(board, now) for now in rovers_now(board.every_case, means, board.as_of)]
    return tuple(sorted(rovers, key=lambda each: (each.doing, each.now.free_in, _first(each), each.rover)))


def wanting(board: Board) -> tuple[Case, ...]:
    """The open cases that want a rover and have none, worst first; into danger nobody, unless the plan says so."""
    settings = board.plan.dispatch
    return tuple(
        case
        for case in board.cases
        if not case.rover
        and settings.need(case.exception).rover
        and (settings.into_danger or case.effect is not Effect.DANGER)
    )


def _on_the_road(board: Board, now: RoverNow) -> OnTheRoad:
    case = board.case_by_id.get(now.on_site or now.heading)
    suggested = board.dispatch.stops.get(now.rover.rover, ()) if board.dispatch else ()
    stops = tuple(stop for stop in suggested if _still_to_do(board, stop, case))
    own = {stop.case for stop in stops} | {case.case for case in (case,) if case}
    assigned = tuple(c for c in board.cases if c.rover == now.rover.rover and c.case not in own)
    return OnTheRoad(now, _doing(board, now, stops, assigned), case, stops, assigned)


def _still_to_do(board: Board, stop: Stop, now: Case | None) -> bool:
    """The suggestion may be a moment older than the cases."""
    case = board.case_by_id.get(stop.case)
    return case is not None and case is not now and case.state.open and case.rover in ("", stop.rover)


def _doing(board: Board, now: RoverNow, stops: tuple[Stop, ...], assigned: tuple[Case, ...]) -> Doing:
    if now.on_site:
        return Doing.ON_SITE
    if now.heading:
        return Doing.UNDER_WAY
    if assigned or any(is_assigned(board, stop) for stop in stops):
        return Doing.ASKED
    return Doing.OFF if now.free_in > 0 or now.until <= 0 else Doing.FREE


def is_assigned(board: Board, stop: Stop) -> bool:
    """Whether a person has given this case to this rover; else the stop is only suggested."""
    case = board.case_by_id.get(stop.case)
    return case is not None and case.rover == stop.rover


def _first(each: OnTheRoad) -> float:
    return each.stops[0].minutes if each.stops else float("inf")
