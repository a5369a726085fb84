"""Closing night in words: the county's sentence, and in few words how each place stands, the worst first."""

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from types import MappingProxyType

from county.domain.ballot_accounts import county_balance
from county.domain.closing import ClosingStage, PlaceClosing, closings
from county.domain.custody import SealWay
from dashboard import words
from dashboard.board_now import Board
from dashboard.feed import once

MARKS: Mapping[ClosingStage, str] = MappingProxyType(
    {
        ClosingStage.IN_DOUBT: "stopped",
        ClosingStage.NOT_CLOSED: "late",
        ClosingStage.PAST_CUT_OFF: "held-up",
        ClosingStage.LINE: "impaired",
        ClosingStage.OUT_OF_BALANCE: "record",
        ClosingStage.OVERDUE: "at-risk",
        ClosingStage.ON_THE_WAY: "preparing",
        ClosingStage.CLOSING: "closed",
        ClosingStage.BACK: "received",
        ClosingStage.STILL_OPEN: "open",
    }
)
"""The shape of each stage."""


def places(board: Board) -> tuple[PlaceClosing, ...]:
    """Every place's closing as of the board's moment, the worst first."""
    return closings(board.places, board.plan, board.as_of)


def begun(board: Board) -> bool:
    """Whether a closing time has come, or somebody closed before theirs."""
    return any(each.closed or each.stage is not ClosingStage.STILL_OPEN for each in once(places, board))


def sentence(board: Board) -> str:
    """31 of 48 closed, 3 with voters still in line, 9 balanced, 2 out of balance by …, 12 back."""
    if not board.places:
        return "No places are on the roster yet."
    if not begun(board):
        return _before(board)
    every = once(places, board)
    closed = sum(each.closed for each in every)
    doubt = sum(each.stage is ClosingStage.IN_DOUBT for each in every)
    lead = f"All {closed:,} closed" if closed == len(every) else f"{closed:,} of {len(every):,} closed"
    in_line = sum(each.still_in_line is not None for each in every)
    said = words.commas(
        (
            lead,
            f"{in_line:,} with voters still in line" if in_line else "",
            f"{sum(each.difference == 0 for each in every):,} balanced",
            _out_of_balance(every),
            f"{sum(each.back for each in every):,} back",
        )
    )
    at = f"At {words.counted(doubt, 'place')} something is missing or in doubt. " if doubt else ""
    return f"{at}{said}."


def _before(board: Board) -> str:
    first = min(now.expected.closes_at for now in board.places)
    is_open = sum(1 for now in board.places if now.day.opened_at)
    soon = words.span(first - board.as_of)
    return f"{soon} to closing. {is_open:,} of {len(board.places):,} opened; none closes before {_clock(board, first)}."


def _out_of_balance(every: Sequence[PlaceClosing]) -> str:
    off = sum(bool(each.difference) for each in every)
    over, _ = county_balance(each.account for each in every)
    ballots = "ballot" if abs(over.net) == 1 else "ballots"
    return f"{off:,} out of balance by {over.net:+,} {ballots} net and {over.absolute:,} absolute" if off else ""


def says(place: PlaceClosing, board: Board) -> str:
    """How the place stands, in few words."""
    return words.begun(_SAYS[place.stage](place, board))


def _in_doubt(place: PlaceClosing, board: Board) -> str:
    return words.commas(lost(place)) or way(place, board)


def lost(place: PlaceClosing) -> list[str]:
    """What is not there, and which seals differ or are not whole."""
    missing = ", ".join(each.here.says for each in place.custody.missing)
    said = [f"not there: {missing}"] if missing else []
    return said + [f"seal of {seal_name(each, place)}: {each.state}" for each in place.custody.wrong_seals]


def seal_name(seal: SealWay, place: PlaceClosing) -> str:
    """What a seal is on, as people call it."""
    called = {each.here.name: each.here.says for each in place.custody.items}
    return words.commas([called.get(seal.on, seal.on), seal.position])


def line(place: PlaceClosing, board: Board) -> str:
    """How many were in line when it was told last; that nobody told is said."""
    if place.line is None:
        return "line not known"
    return f"{place.line.people:,} in line when told at {_clock(board, place.line.at)}"


def _not_closed(place: PlaceClosing, board: Board) -> str:
    return f"{place.minutes_over:,} min over its closing, {line(place, board)}"


def _past(place: PlaceClosing, board: Board) -> str:
    return f"not back, cut-off was {_clock(board, place.cut_off)}; {way(place, board)}"


def _off(place: PlaceClosing, board: Board) -> str:
    off = place.difference or 0
    back = "back; " if place.back else ""
    return f"{back}{off:+,} {'ballot' if abs(off) == 1 else 'ballots'} against the count of paper"


def _overdue(place: PlaceClosing, board: Board) -> str:
    first = place.overdue[0]
    more = f", {words.counted(len(place.overdue) - 1, 'more step')}" if len(place.overdue) > 1 else ""
    return f"{words.step(first.key)} was due {_clock(board, first.due_at)}{more}; {way(place, board)}"


def way(place: PlaceClosing, board: Board) -> str:
    """Where the material is, as far as told."""
    left, back = place.custody.left_at, place.custody.back_at
    if back:
        return f"back {_clock(board, back)}" + ("" if left else "; when it left nobody told")
    if left:
        return f"on the way since {_clock(board, left)}, {words.span(board.as_of - left)}"
    return "not left yet"


def _next(place: PlaceClosing, board: Board) -> str:
    day = place.now.day
    last = day.last_step
    done = f"{words.step(last)} {_clock(board, day.done[last])}" if last in day.done else "closed"
    return f"{done}; {way(place, board)}"


_SAYS: Mapping[ClosingStage, Callable[[PlaceClosing, Board], str]] = MappingProxyType(
    {
        ClosingStage.IN_DOUBT: _in_doubt,
        ClosingStage.NOT_CLOSED: _not_closed,
        ClosingStage.PAST_CUT_OFF: _past,
        ClosingStage.LINE: line,
        ClosingStage.OUT_OF_BALANCE: _off,
        ClosingStage.OVERDUE: _overdue,
        ClosingStage.ON_THE_WAY: way,
        ClosingStage.CLOSING: _next,
        ClosingStage.BACK: way,
        ClosingStage.STILL_OPEN: lambda place, board: f"closes {_clock(board, place.now.expected.closes_at)}",
    }
)


def _clock(board: Board, moment: datetime) -> str:
    return words.clock(moment, board.zone)
