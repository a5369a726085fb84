"""A day reviewed later stops where its record ends, so that what is still open is not counted on for weeks."""

from dataclasses import replace
from datetime import timedelta

from dashboard.board_now import Board
from dashboard.feed import once

AFTER_CLOSING = timedelta(hours=4)


def at_its_end(board: Board) -> Board:
    """The board as of the end of its record: now, or the last report or some hours after the last closing."""
    return once(_at_its_end, board)


def _at_its_end(board: Board) -> Board:
    if not board.places:
        return board
    last_closing = max(place.expected.closes_at for place in board.places)
    ends = max(last_closing + AFTER_CLOSING, board.last_received_at or last_closing)
    return replace(board, as_of=ends, made={}, moment_word="end") if ends < board.as_of else board
