"""The county in one sentence, with every place counted exactly once."""

from collections import Counter
from collections.abc import Mapping
from datetime import datetime

from county.domain.effects import Effect
from dashboard import pattern_words, words
from dashboard.board_now import Board
from dashboard.feed import once
from dashboard.looks import Group, looks

_STOPPING = (Effect.DANGER, Effect.STOPPED)


def county(board: Board) -> str:
    """Whether the day goes well: 41 of 48 open. 3 late, 2 not heard from, 1 stopped."""
    if not board.places:
        return "No places are on the roster yet."
    pattern = pattern_words.sentence(board)
    return f"{_places(board)} {pattern}" if pattern else _places(board)


def _places(board: Board) -> str:
    groups = Counter(look.group for look in once(looks, board))
    opening = once(usual_opening, board)
    if groups[Group.CLOSED] or groups[Group.RECEIVED]:
        return _closing(groups, len(board.places))
    return _before(groups, board, opening) if board.as_of < opening else _open(groups, len(board.places))


def usual_opening(board: Board) -> datetime:
    """When most places open."""
    return Counter(place.expected.opens_at for place in board.places).most_common(1)[0][0]


def _before(groups: Mapping[Group, int], board: Board, opening: datetime) -> str:
    total = len(board.places)
    minutes = words.whole_minutes(opening - board.as_of)
    left = words.counted(minutes, "minute") if minutes < 100 else words.span(opening - board.as_of)
    if groups[Group.NOT_DUE] == total:
        first = min(place.expected.first_due_at for place in board.places)
        return f"{left} to opening. Nothing is due from any place before {words.clock(first, board.zone)}."
    on_course = groups[Group.ON_COURSE] + groups[Group.NOT_DUE] + groups[Group.OPEN]
    rest = words.listed(
        (
            _have(groups[Group.STOPPED], "has voting stopped", "have voting stopped"),
            _have(groups[Group.HELD_UP], "is held up", "are held up"),
            _have(groups[Group.LATE], "is late", "are late"),
            _have(groups[Group.IMPAIRED], "is open but impaired", "are open but impaired"),
            _have(groups[Group.EXPECTED_LATE], "is expected late", "are expected late"),
            _have(groups[Group.OVERDUE], "has a step overdue", "have a step overdue"),
            _have(groups[Group.UNHEARD], "has not been heard from", "have not been heard from"),
        )
    )
    if not rest:
        return f"{left} to opening. All {words.counted(total, 'place')} are on course."
    return f"{left} to opening. {on_course:,} of {words.counted(total, 'place')} are on course; {rest}."


def _open(groups: Mapping[Group, int], total: int) -> str:
    is_open = groups[Group.OPEN] + groups[Group.IMPAIRED]
    impaired = f", {groups[Group.IMPAIRED]:,} of them impaired" if groups[Group.IMPAIRED] else ""
    rest = words.commas(
        (
            _said(groups[Group.LATE], "late"),
            _said(groups[Group.UNHEARD], "not heard from"),
            _said(groups[Group.STOPPED], "stopped"),
            _said(groups[Group.HELD_UP], "held up"),
            _said(groups[Group.EXPECTED_LATE], "expected late"),
            _said(groups[Group.OVERDUE] + groups[Group.ON_COURSE] + groups[Group.NOT_DUE], "not due to open yet"),
        )
    )
    lead = f"All {total:,} open" if is_open == total else f"{is_open:,} of {total:,} open"
    return f"{lead}{impaired}. {rest}." if rest else f"{lead}{impaired}."


def _closing(groups: Mapping[Group, int], total: int) -> str:
    closed, received = groups[Group.CLOSED] + groups[Group.RECEIVED], groups[Group.RECEIVED]
    still = words.listed(
        (
            _said(groups[Group.OPEN] + groups[Group.IMPAIRED], "still open"),
            _said(groups[Group.STOPPED], "stopped"),
            _said(total - closed - sum(groups[g] for g in (Group.OPEN, Group.IMPAIRED, Group.STOPPED)), "never open"),
        )
    )
    lead = f"All {total:,} closed" if closed == total else f"{closed:,} of {total:,} closed"
    return f"{lead}{f'; {still}' if still else ''}. {received:,} received at the office."


def _said(number: int, says: str) -> str:
    return f"{number:,} {says}" if number else ""


def _have(number: int, one: str, many: str) -> str:
    return f"{number:,} {one if number == 1 else many}" if number else ""
