"""How each place's line and ballots stand at the board's moment, worst first; what is old or untold is not known."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import IntEnum

from county.domain.ballots_left import Supply
from county.domain.lines import Wait, voting_over
from county.domain.picture import PlaceNow
from dashboard.board_now import Board

_NO_TIME = timedelta(0)


class Line(IntEnum):
    """How a place's line stands, the worst first; every place is in exactly one."""

    LONG = 0
    NOT_KNOWN = 1
    WITHIN = 2
    NOT_YET = 3
    OVER = 4


class Paper(IntEnum):
    """How a place's ballots stand, the worst first; every place is in exactly one."""

    OUT = 0
    SHORT = 1
    BEFORE_CLOSING = 2
    NOT_KNOWN = 3
    LASTS = 4
    NOT_YET = 5
    OVER = 6


@dataclass(frozen=True, slots=True)
class PlaceLine:
    """One place's line; `wait` is the last count of it, None before one, and `age` how old that is."""

    now: PlaceNow
    line: Line
    wait: Wait | None
    age: timedelta


@dataclass(frozen=True, slots=True)
class PlacePaper:
    """One place's ballots; `supply` is the last count of them, None before one, and `age` how old that is."""

    now: PlaceNow
    paper: Paper
    supply: Supply | None
    age: timedelta


def place_line(board: Board, now: PlaceNow) -> PlaceLine:
    """How one place's line stands."""
    wait, limits = now.wait, board.plan.limits
    age = board.as_of - wait.at if wait else _NO_TIME
    if (voting := _voting(board, now)) is not None:
        line = Line.OVER if voting else Line.NOT_YET
    elif wait is None or not wait.known or age > limits.count_old_after:
        line = Line.NOT_KNOWN
    else:
        line = Line.LONG if wait.exceeds(limits.wait_minutes) else Line.WITHIN
    return PlaceLine(now, line, wait, age)


def place_paper(board: Board, now: PlaceNow) -> PlacePaper:
    """How one place's ballots stand."""
    supply, limits = now.supply, board.plan.limits
    age = board.as_of - supply.at if supply else _NO_TIME
    if (voting := _voting(board, now)) is not None:
        paper = Paper.OVER if voting else Paper.NOT_YET
    elif supply is None or age > limits.count_old_after or (supply.left and supply.pace is None):
        paper = Paper.NOT_KNOWN
    elif not supply.left:
        paper = Paper.OUT
    elif supply.short(limits):
        paper = Paper.SHORT
    else:
        paper = Paper.BEFORE_CLOSING if supply.ends_before(limits.ballots_margin) else Paper.LASTS
    return PlacePaper(now, paper, supply, age)


def _voting(board: Board, now: PlaceNow) -> bool | None:
    """None while there may be voters at the place; else whether it is over, or has not begun.

    A place past its opening time that is not reported open may have people at its door: its line is not known.
    """
    if voting_over(now.day, now.expected) is not None:
        return True
    return False if now.day.opened_at is None and board.as_of < now.expected.opens_at else None


def lines(board: Board) -> tuple[PlaceLine, ...]:
    """Every place by its line: the longest wait first, then what is not known, longest without a count first."""
    return tuple(sorted((place_line(board, now) for now in board.places), key=_by_wait))


def _by_wait(each: PlaceLine) -> tuple[int, float, float, str]:
    minutes = each.wait.minutes if each.wait and each.line in (Line.LONG, Line.WITHIN) else 0.0
    told = each.wait.at.timestamp() if each.wait else 0.0
    return each.line, -minutes, told, each.now.place.place


def papers(board: Board) -> tuple[PlacePaper, ...]:
    """Every place by its ballots: none left first, then those that run out, the soonest first."""
    return tuple(sorted((place_paper(board, now) for now in board.places), key=_by_end))


def _by_end(each: PlacePaper) -> tuple[int, float, str]:
    gone: datetime | None = None
    if each.supply and each.paper not in (Paper.NOT_KNOWN, Paper.NOT_YET, Paper.OVER):
        gone = each.supply.runs_out_at
    return each.paper, gone.timestamp() if gone else float("inf"), each.now.place.place


def counted(every: Sequence[PlaceLine]) -> Mapping[Line, int]:
    """How many places' lines stand how; every word is named."""
    return {line: sum(1 for each in every if each.line is line) for line in Line}


def counted_papers(every: Sequence[PlacePaper]) -> Mapping[Paper, int]:
    """How many places' ballots stand how; every word is named."""
    return {paper: sum(1 for each in every if each.paper is paper) for paper in Paper}
