"""Cases as rows, worst first, each with the response clock against the county's own target."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from county.domain.cases import Case
from dashboard import words
from dashboard.board_now import Board
from dashboard.clock_of_response import waiting
from dashboard.list_row import Bar, ListRow
from dashboard.looks import about, trouble

ROOM = 80
SHOWN_OPEN, SHOWN_ENDED, SHOWN_WORST = 150, 8, 5


def open_cases(board: Board, chosen: str) -> list[ListRow]:
    """Open cases, worst first; `chosen` is the id of the one that is shown beside."""
    return [_row(board, case, chosen) for case in board.cases[:SHOWN_OPEN]]


def ended_cases(board: Board, chosen: str) -> list[ListRow]:
    """The cases that ended last."""
    ended = [case for case in board.every_case if not case.state.open]
    ended.sort(key=lambda case: case.ended_at or case.raised_at, reverse=True)
    return [_row(board, case, chosen) for case in ended[:SHOWN_ENDED]]


def worst_cases(board: Board) -> list[ListRow]:
    """The worst open case of each of the worst places, few enough to stand beside the morning."""
    at_place: dict[str, list[Case]] = {}
    for case in board.cases:
        at_place.setdefault(case.place, []).append(case)
    return [_worst(board, cases) for cases in list(at_place.values())[:SHOWN_WORST]]


def _worst(board: Board, cases: Sequence[Case]) -> ListRow:
    more = f", {words.counted(len(cases) - 1, 'more case')}" if len(cases) > 1 else ""
    return replace(_row(board, cases[0], ""), says=_kind(board, cases[0]) + more)


def cases_here(board: Board, cases: Sequence[Case]) -> list[ListRow]:
    """One place's cases, called by their trouble: the place is known."""
    titled = ((case, words.begun(trouble(case, board.plan))) for case in cases)
    return [replace(_row(board, case, ""), title=title, beside="", says=case.says) for case, title in titled]


def _row(board: Board, case: Case, chosen: str) -> ListRow:
    clock = waiting(case, board.plan, board.as_of)
    running = f"{words.STATE[case.state]}, {words.span(clock.elapsed)}"
    ended = f"{words.STATE[case.state]} {words.clock(case.ended_at, board.zone)}" if case.ended_at else ""
    return ListRow(
        id=case.case,
        mark=case.effect.value,
        title=board.place_by_id[case.place].place.name,
        beside=case.device,
        says=f"{_kind(board, case)}, {words.bearing(case)}",
        state=running if case.state.open else ended,
        alarm=case.state.open and clock.over,
        chosen=case.case == chosen,
        bar=Bar(clock.share, clock.mark, clock.over) if case.state.open else None,
        who=rover_name(board, case.rover) if case.rover else "",
    )


def _kind(board: Board, case: Case) -> str:
    return about(case, board.plan, ROOM)


def rover_name(board: Board, rover: str) -> str:
    """A rover by name, and the id where the roster has no such rover."""
    found = board.roster.rover_by_id.get(rover)
    return found.name if found else rover


def rovers_to_choose(board: Board, case: Case) -> dict[str, str]:
    """Rovers by id with what one needs to choose: name, zone, what they carry; those of the place's zone first."""
    zone = board.place_by_id[case.place].place.zone
    rovers = sorted(board.roster.rovers, key=lambda rover: (rover.zone != zone, rover.name))
    return {
        each.rover: words.commas([each.name, each.zone, f"carries {words.listed(each.carries)}" * bool(each.carries)])
        for each in rovers
    }


def rovers_busy(board: Board) -> str:
    """Which rovers are on an open case now."""
    busy = Counter(case.rover for case in board.cases if case.rover)
    names = words.commas(f"{rover_name(board, rover)} ({count})" for rover, count in busy.most_common())
    return f"On open cases now: {names}." if names else "No rover is on an open case now."
