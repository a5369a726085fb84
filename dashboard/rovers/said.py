"""Rovers in words: the page's sentence, what each does, what comes next, why nobody goes."""

from collections import Counter
from collections.abc import Mapping, Sequence
from types import MappingProxyType

from county.domain.cases import Case
from county.domain.dispatch import Stop
from dashboard import words
from dashboard.board_now import Board
from dashboard.case_rows import rover_name
from dashboard.looks import trouble
from dashboard.rovers.road import Doing, OnTheRoad, is_assigned, wanting

DOING: Mapping[Doing, str] = MappingProxyType(
    {
        Doing.FREE: "free",
        Doing.ASKED: "assigned",
        Doing.UNDER_WAY: "under way",
        Doing.ON_SITE: "on site",
        Doing.OFF: "off shift",
    }
)
MARKS: Mapping[Doing, str] = MappingProxyType(
    {doing: f"rover-{doing.name.lower().replace('_', '-')}" for doing in Doing}
)


def sentence(board: Board, rovers: Sequence[OnTheRoad]) -> str:
    """9 rovers: 3 free, 4 under way, 2 on site. 5 cases want somebody."""
    if not rovers:
        return "There is no rover in the roster."
    count = Counter(each.doing for each in rovers)
    parts = words.commas(f"{count[doing]:,} {says}" for doing, says in DOING.items() if count[doing])
    waiting = len(wanting(board))
    want = f"{words.counted(waiting, 'case')} {'wants' if waiting == 1 else 'want'} somebody" if waiting else ""
    return f"{words.counted(len(rovers), 'rover')}: {parts}. {want or 'No case wants anybody'}."


def legend(rovers: Sequence[OnTheRoad]) -> list[tuple[str, str, int]]:
    """Shape, word and number of rovers for everything that rovers do."""
    count = Counter(each.doing for each in rovers)
    return [(MARKS[doing], says, count[doing]) for doing, says in DOING.items() if count[doing]]


def does(board: Board, each: OnTheRoad) -> str:
    """What a rover does now, in a few words."""
    case = each.case
    if case is not None:
        place = board.place_by_id[case.place].place.name
        to = f"{'on site at' if each.doing is Doing.ON_SITE else 'under way to'} {place}, {trouble(case, board.plan)}"
        return words.begun(f"{to}{_how_long(board, each, case)}")
    if each.doing is Doing.OFF:
        starts = each.now.rover.starts
        return f"Shift begins {starts:%H:%M}" if each.now.free_in > 0 and starts else "Shift is over"
    if each.doing is Doing.ASKED:
        return "Assigned and not under way yet"
    return f"Free, last known at {_where(board, each)}"


def _how_long(board: Board, each: OnTheRoad, case: Case) -> str:
    since = case.on_site_at if each.doing is Doing.ON_SITE else case.under_way_at
    gone = f", for {words.span(board.as_of - since)}" if since else ""
    expected = case.expected_at if each.doing is Doing.UNDER_WAY else None
    return f"{gone}, expected {words.clock(expected, board.zone)}" if expected else gone


def _where(board: Board, each: OnTheRoad) -> str:
    place = board.place_by_id.get(each.now.at.name)
    return place.place.name if place else "its base"


def stop_says(board: Board, stop: Stop) -> str:
    """One stop: which case, in how many minutes, and whether it is assigned or only suggested."""
    minutes = max(1, round((stop.arrives_at - board.as_of).total_seconds() / 60))
    return f"{case_says(board, board.case_by_id[stop.case])}, in {minutes} min"


def case_says(board: Board, case: Case) -> str:
    """A case by its place and what is the matter."""
    return f"{board.place_by_id[case.place].place.name}, {trouble(case, board.plan)}"


def stop_word(board: Board, stop: Stop) -> str:
    """How sure a stop is."""
    return "assigned" if is_assigned(board, stop) else "suggested"


def who_goes(board: Board, case: Case) -> str:
    """Whom the board suggests for a case, and why; or why nobody can go."""
    found = board.dispatch
    stop = found.stop_for(case.case) if found else None
    if stop:
        return f"Suggested: {rover_name(board, stop.rover)}, {stop.why}"
    return f"Nobody: {found.left_out[case.case]}" if found and case.case in found.left_out else "Being worked out"


def nobody_can_go(board: Board, case: Case) -> bool:
    """Whether no rover can take this case."""
    return board.dispatch is not None and case.case in board.dispatch.left_out


def carried(each: OnTheRoad) -> str:
    """What a rover carries and can do."""
    rover = each.now.rover
    return words.commas(
        [
            f"carries {words.listed(rover.carries)}" if rover.carries else "",
            f"skills: {words.listed(rover.skills)}" if rover.skills else "",
            f"shift {rover.starts:%H:%M} to {rover.ends:%H:%M}" if rover.starts and rover.ends else "",
        ]
    )
