"""Cases as rows, worst first, each with the response clock against the county's own target."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from county.domain.cases import Case
from dashboard import pattern_words, words
from dashboard.board_now import Board
from dashboard.clock_of_response import waiting
from dashboard.feed import once
from dashboard.list_row import Bar, ListRow
from dashboard.looks import about, trouble

ROOM = 80
SHOWN_OPEN, SHOWN_ENDED, SHOWN_WORST, SHOWN_LINKED = 150, 8, 5, 12


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
        at_place.setdefault(case.case if case.is_pattern else case.place, []).append(case)
    return [_worst(board, cases) for cases in list(at_place.values())[:SHOWN_WORST]]


def _worst(board: Board, cases: Sequence[Case]) -> ListRow:
    more = f", {words.counted(len(cases) - 1, 'more case')}" if len(cases) > 1 else ""
    return replace(_row(board, cases[0], ""), says=_kind(board, cases[0]) + more)


def linked_cases(board: Board, cases: Sequence[Case]) -> list[ListRow]:
    """The cases of a pattern, or a case's pattern, few enough to stand beneath a case."""
    return [_row(board, case, "") for case in cases[:SHOWN_LINKED]]


def cases_here(board: Board, cases: Sequence[Case]) -> list[ListRow]:
    """One place's cases, called by their trouble: the place is known."""
    titled = ((case, words.begun(trouble(case, board.plan))) for case in cases)
    return [replace(_row(board, case, ""), title=title, beside="", says=case.says) for case, title in titled]


def _row(board: Board, case: Case, chosen: str) -> ListRow:
    clock = waiting(case, board.plan, board.as_of)
    running = f"{words.STATE[case.state]}, {words.span(clock.elapsed)}"
    ended = f"{words.STATE[case.state]} {words.clock(case.ended_at, board.zone)}" if case.ended_at else ""
    pattern = once(pattern_words.pattern_of, board).get(case.case)
    return ListRow(
        id=case.case,
        mark=case.effect.value,
        title=_title(board, case),
        beside=case.device,
        says=words.commas([_kind(board, case), words.bearing(case), "one of a pattern" if pattern else ""]),
        state=running if case.state.open else ended,
        alarm=case.state.open and clock.over,
        chosen=case.case == chosen,
        bar=Bar(clock.share, clock.mark, clock.over) if case.state.open else None,
        who=_rover(board, case),
    )


def _title(board: Board, case: Case) -> str:
    """Where it is: a pattern is at many places."""
    if case.is_pattern:
        return words.counted(pattern_words.places(case), "place")
    return board.place_by_id[case.place].place.name


def _kind(board: Board, case: Case) -> str:
    if case.is_pattern:
        kind = words.unbegun(board.plan.kind(case.of).says)
        return words.commas([f"same trouble: {kind}", pattern_words.by_chance(case)])
    return about(case, board.plan, ROOM)


def _rover(board: Board, case: Case) -> str:
    """The rover that has the case, and when it is expected where it has not come yet."""
    if not case.rover:
        return ""
    expected = case.expected_at if case.state.open and not case.on_site_at else None
    name = rover_name(board, case.rover)
    return f"{name}, about {words.clock(expected, board.zone)}" if expected else name


def rover_name(board: Board, rover: str) -> str:
    """A rover by name, and the id where the roster has no such rover."""
    found = board.roster.rover_by_id.get(rover)
    return found.name if found else rover


def rovers_busy(board: Board) -> str:
    """Which rovers are on an open case now."""
    busy = Counter(case.rover for case in board.cases if case.rover)
    names = words.commas(f"{rover_name(board, rover)} ({count})" for rover, count in busy.most_common())
    return f"On open cases now: {names}." if names else "No rover is on an open case now."
