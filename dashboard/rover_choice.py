"""Whom to send to a case: the rover the board suggests and why, the others with their minutes, and why not the rest."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from county.domain.cases import Case, State
from county.domain.dispatch import Dispatch, Stop
from county.domain.dispatch_field import lacks
from county.domain.effects import Effect
from county.domain.roster import Rover
from county.domain.rovers_now import Means, RoverNow
from county.domain.travel import Travel
from dashboard import words
from dashboard.board_now import Board

_LACKS = {"skill": "without the skill", "spare": "without what is needed", "zone": "of another zone"}


@dataclass(frozen=True, slots=True)
class Choice:
    """What a desk chooses from: `names` by rover's id, soonest first; whom the board suggests (empty: nobody) and why.

    `expected` is when each rover that could go would be on site (aware UTC).
    """

    names: Mapping[str, str]
    suggested: str
    says: str
    expected: Mapping[str, datetime]


def choice(board: Board, case: Case) -> Choice:
    """Every rover to choose from for this case; a suggestion only where the board has one of its own."""
    found = board.dispatch
    stop = found.stop_for(case.case) if found else None
    suggested = stop.rover if stop and stop.rover != case.rover else ""
    minutes = {offer.rover: offer.minutes for offer in found.offers.get(case.case, ())} if found else {}
    expected = {rover: board.as_of + timedelta(minutes=away) for rover, away in minutes.items()}
    if stop:
        expected[stop.rover] = stop.arrives_at
    soonest = sorted(
        board.roster.rovers,
        key=lambda rover: (
            rover.rover != suggested,
            minutes.get(rover.rover, float("inf")),
            *_by_zone(rover, case, board),
        ),
    )
    why_not = _why_not(board, case)
    away = {rover.rover: f"{minutes[rover.rover]:.0f} min" for rover in soonest if rover.rover in minutes}
    names = {each.rover: _name(each, away.get(each.rover) or why_not(each), suggested) for each in soonest}
    return Choice(names, suggested, _says(board, case, found, stop if suggested else None), expected)


def expected_of(board: Board, case: Case) -> datetime | None:
    """When the rover that has the case would be on site if it set off now; None where that is not known."""
    stop = board.dispatch.stop_for(case.case) if board.dispatch else None
    return stop.arrives_at if stop and stop.rover == case.rover else None


def _by_zone(rover: Rover, case: Case, board: Board) -> tuple[bool, str]:
    return rover.zone != board.place_by_id[case.place].place.zone, rover.name


def _name(rover: Rover, away: str, suggested: str) -> str:
    return words.commas(
        [
            f"{rover.name}, suggested" if rover.rover == suggested else rover.name,
            away,
            f"carries {words.listed(rover.carries)}" * bool(rover.carries),
        ]
    )


def _why_not(board: Board, case: Case) -> Callable[[Rover], str]:
    """Why the board would not send a rover: the desk may all the same."""
    found, settings = board.dispatch, board.plan.dispatch
    if found is None or case.case not in found.offers:
        return lambda rover: rover.zone
    here = {each.rover.rover: each for each in found.rovers}
    means = Means(board.roster, board.plan.election, settings, Travel.by(settings))
    need = settings.need(case.exception)

    def why(rover: Rover) -> str:
        if rover.rover not in here:
            return rover.zone
        lacking = _LACKS.get(lacks(here[rover.rover], case, need, means), "")
        return lacking or _turned_down(rover, case) or _not_free(here[rover.rover])

    return why


def _turned_down(rover: Rover, case: Case) -> str:
    return "turned it down" if any(s.action == "cannot" and s.rover == rover.rover for s in case.steps) else ""


def _not_free(here: RoverNow) -> str:
    return "not before its shift ends" if here.until != float("inf") else "not free for it"


def _says(board: Board, case: Case, found: Dispatch | None, stop: Stop | None) -> str:
    """Whom the board suggests, in a sentence that the desk can check."""
    if found is None:
        return "Whom to send is still being worked out."
    if stop:
        name = next((rover.name for rover in board.roster.rovers if rover.rover == stop.rover), stop.rover)
        about = words.clock(stop.arrives_at, board.zone)
        remark = f" {words.sentence(found.remark)}" if found.remark else ""
        return f"Suggested: {name}. {words.sentence(stop.why)} On site about {about}.{remark}"
    if case.case in found.left_out:
        return f"Nobody is suggested: {found.left_out[case.case]}."
    if case.effect is Effect.DANGER and not board.plan.dispatch.into_danger:
        return "911 first. The board suggests nobody into danger; a person decides."
    if case.rover:
        return "" if case.state is State.ON_SITE else "The board would send nobody else."
    return "Nobody is usually sent for this; send somebody all the same if it helps."
