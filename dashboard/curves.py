"""Step curves: for each step the share of places done against the clock, an earlier election's curve behind it."""

from bisect import bisect_right
from collections import Counter
from collections.abc import Sequence
from datetime import datetime, timedelta

from county.domain.plan import Anchor, Step
from dashboard import words
from dashboard.board_now import Board
from dashboard.county_sentence import usual_opening
from dashboard.feed import once

POINTS = 72
BEFORE, AFTER = timedelta(minutes=15), timedelta(minutes=30)
CLOSING_FROM = timedelta(hours=1)


def explained(board: Board) -> str:
    """What the curves and the line behind them are."""
    behind = f" Thin line: the {board.earlier.election}." if board.earlier else ""
    return f"Dotted: when the step is due.{behind}"


def step_curves(board: Board) -> list[dict[str, object]]:
    """One curve for each step of the morning, or of the closing once that is near."""
    if not board.places:
        return []
    anchor = _anchor(board)
    steps = [step for step in board.plan.steps if step.anchor is anchor]
    begins, ends = _window(board, steps)
    return [_curve(board, step, begins, ends) for step in steps]


def _anchor(board: Board) -> Anchor:
    closes = min(place.expected.closes_at for place in board.places)
    return Anchor.CLOSING if board.as_of >= closes - CLOSING_FROM else Anchor.OPENING


def _window(board: Board, steps: Sequence[Step]) -> tuple[datetime, datetime]:
    """From a little before the first step is due to a little after the last, or to now while that is near."""
    opening = once(usual_opening, board)
    closing = once(_last_closing, board)
    anchor = opening if steps and steps[0].anchor is Anchor.OPENING else closing
    first, last = (anchor + edge(step.due for step in steps) for edge in (min, max))
    return first - BEFORE - timedelta(minutes=10), last + AFTER


def _curve(board: Board, step: Step, begins: datetime, ends: datetime) -> dict[str, object]:
    moments = [begins + (ends - begins) * n / POINTS for n in range(POINTS + 1)]
    due = once(_places_with, board)[step.key]
    done = sorted(place.day.done[step.key] for place in board.places if step.key in place.day.done)
    told = [moment for moment in moments if moment <= board.as_of]
    today = _shares(done, told, due, begins, ends)
    if told and board.as_of < ends:
        today.append((_along(board.as_of, begins, ends), len(done) / due if due else 0.0))
    before = _earlier_moments(board, step)
    says = f"{len(done):,} of {words.counted(due, 'place')}"
    then = bisect_right(before, board.as_of)
    behind = (
        f"; {then:,} of {len(before):,} by this time at the {board.earlier.election}"
        if board.earlier and before
        else ""
    )
    return {
        "name": words.begun(words.step(step.key)),
        "says": f"{len(done):,} of {due:,}",
        "detail": f"{step.says}: {says}{behind}",
        "today": today,
        "earlier": _shares(before, moments, len(before), begins, ends) if before else [],
        "due": _within(_usual_due(board, step), begins, ends),
    }


def _places_with(board: Board) -> Counter[str]:
    """How many places have each step to do."""
    return Counter(step.step.key for place in board.places for step in place.expected.steps)


def _earlier_moments(board: Board, step: Step) -> list[datetime]:
    """When the earlier election's places did the step, had they opened when they open today."""
    if board.earlier is None:
        return []
    usual = once(usual_opening, board)
    opens = once(_openings, board)
    then = board.earlier.minutes.get(step.key, {}).items()
    return sorted(opens.get(place, usual) + timedelta(minutes=minutes) for place, minutes in then)


def _openings(board: Board) -> dict[str, datetime]:
    return {place.place.place: place.expected.opens_at for place in board.places}


def _last_closing(board: Board) -> datetime:
    return max(place.expected.closes_at for place in board.places)


def _shares(
    done: Sequence[datetime], moments: Sequence[datetime], whole: int, begins: datetime, ends: datetime
) -> list[tuple[float, float]]:
    return [(_along(at, begins, ends), round(bisect_right(done, at) / whole, 4) if whole else 0.0) for at in moments]


def _usual_due(board: Board, step: Step) -> datetime:
    if step.anchor is Anchor.OPENING:
        return once(usual_opening, board) + step.due
    return once(_last_closing, board) + step.due


def _along(moment: datetime, begins: datetime, ends: datetime) -> float:
    return round((moment - begins) / (ends - begins), 4)


def _within(moment: datetime, begins: datetime, ends: datetime) -> float | None:
    return _along(moment, begins, ends) if begins <= moment <= ends else None
