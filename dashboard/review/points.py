"""Who knew of a place's troubles and when, and what was done about each: the record's points in words."""

from collections.abc import Iterable, Sequence
from datetime import datetime

from county.domain.cases import Action, Case
from county.domain.place_state import PlaceState
from county.domain.record.opening import Opening
from county.domain.record.who_knew import Knew, Point, who_knew
from dashboard import entry_words, words
from dashboard.board_now import Board
from dashboard.case_rows import rover_name
from dashboard.looks import trouble
from dashboard.markup import Markup, tag, text
from dashboard.review.day import WORTH_SAYING


def knew(board: Board, state: PlaceState, cases: Sequence[Case], how: Opening | None) -> Markup:
    """When each trouble was true, when the office learned it and from whom, and who else was told."""
    lines = [
        (
            point.at,
            _line(_seconds(board, point.at), f"{_learned(point, case)}: {_about(board, case)}"),
        )
        for case in cases
        for point in who_knew(state, case)
        if point.what in _LEARNED
    ]
    if how:
        says = f"the office learned from {entry_words.sender(how.told)} that it was open"
        lines.append((how.learned_at, _line(_seconds(board, how.learned_at), says)))
    told = [_told(board, state, case) for case in cases]
    return listed([*_in_order(lines), *(line for line in told if line)], "Nobody was told of anything.")


_LEARNED = {Knew.TRUE: "it was so", Knew.LEARNED: "the office learned it"}
_TOLD = {
    Knew.NOTICE_ARRIVED: "arrived",
    Knew.NOTICE_FAILED: "did not arrive",
    Knew.NOTICE_ON_ITS_WAY: "on its way",
    Knew.NOBODY_TO_TELL: "nobody on shift",
}


def _learned(point: Point, case: Case) -> str:
    if point.what is Knew.TRUE:
        return _LEARNED[point.what]
    whom = {case.place: "from the place", "clock": "by its own clock"}.get(point.who, f"from {point.who}")
    return f"{_LEARNED[point.what]} {whom}"


def _told(board: Board, state: PlaceState, case: Case) -> Markup:
    """Who was told of a case, each with the time and whether it arrived, in one line."""
    points = [point for point in who_knew(state, case) if point.what in _TOLD]
    said = [f"{point.who} {board.wall.minute(point.at)}, {_TOLD[point.what]}" for point in points]
    return tag("li", text(f"Told of {_about(board, case)}: {'; '.join(said)}.")) if said else ""


def done(board: Board, state: PlaceState, cases: Sequence[Case]) -> Markup:
    """What people did with each case, and how it ended, a line a case."""
    lines = []
    for case in cases:
        deeds = [point for point in who_knew(state, case) if point.what in (Knew.DID, Knew.ENDED_BY_FACTS)]
        if deeds:
            said = "; ".join(_deed(board, point) for point in deeds)
            lines.append(tag("li", tag("b", text(words.begun(_about(board, case)))), text(f": {said}.")))
    return listed(lines, "Nobody wrote down that anything was done.")


def _deed(board: Board, point: Point) -> str:
    at, note = board.wall.minute(point.at), point.says.rstrip(".")
    if point.what is Knew.ENDED_BY_FACTS:
        ended = "cleared" if point.action == Action.CLEAR else "withdrawn"
        return f"{at} {ended} by itself, {note}"
    late = point.learned_at if point.learned_at and point.learned_at - point.at >= WORTH_SAYING else None
    learned = f"learned {board.wall.minute(late)}" if late else ""
    rover = rover_name(board, point.rover) if point.rover else ""
    return words.commas([f"{at} {words.did(point.action, rover)} by {point.who}", note, learned])


def _about(board: Board, case: Case) -> str:
    return trouble(case, board.plan)


def _seconds(board: Board, at: datetime) -> str:
    return board.wall.second(at)


def _in_order(lines: Iterable[tuple[datetime, Markup]]) -> list[Markup]:
    return [line for _, line in sorted(lines, key=lambda each: each[0])]


def _line(at: str, says: str) -> Markup:
    return tag("li", tag("b", text(at), cls="pr-number"), text(f" {says}"))


def listed(lines: Sequence[Markup], none: str) -> Markup:
    return tag("ul", *lines) if lines else text(none)
