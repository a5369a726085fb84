"""The morning chart: one row a place; steps done, due and not done, when it will open, its own opening, and now."""

from collections import Counter
from collections.abc import Sequence
from datetime import datetime, timedelta

from dashboard import foreseen, words
from dashboard.board_now import Board
from dashboard.drawing import Spec, drawn
from dashboard.feed import once
from dashboard.looks import Look, overdue, says
from dashboard.rows_in_time import Row, Span, Spot
from dashboard.tables import CHART_ROWS, for_the_chart

BEFORE, AFTER, LATEST = timedelta(minutes=10), timedelta(minutes=30), timedelta(hours=2)


def morning(board: Board, most: int = CHART_ROWS, *, large: bool = False) -> Spec:
    """One row for each place that needs a look, worst first, at most so many; `large` is for reading from afar."""
    chosen = once(for_the_chart, board, most)
    usual = Counter(look.now.expected.opens_at for look in chosen).most_common(1)[0][0]
    heads = {
        board.as_of: f"{board.moment_word} {words.clock(board.as_of, board.zone)}",
        usual: f"opens {words.clock(usual, board.zone)}",
    }
    window = _window(board, chosen, usual)
    rows = [_row(look, board, window[1]) for look in chosen]
    return drawn(rows, window, board.zone, heads, now=board.as_of, large=large)


def _window(board: Board, chosen: Sequence[Look], usual: datetime) -> tuple[datetime, datetime]:
    """From just before the first step, done or due, to half an hour after opening, or to now while that is near.

    Every place's way to its opening is in it, however late, and when it will likely open.
    """
    first = min(min([look.now.expected.first_due_at, *look.now.day.done.values()]) for look in chosen)
    last = max(max([look.now.expected.opens_at, *_ahead(look), *_to_the_opening(look).values()]) for look in chosen)
    return first - BEFORE, max(usual + AFTER, last + BEFORE, min(board.as_of + BEFORE, usual + LATEST))


def _ahead(look: Look) -> list[datetime]:
    return [look.forecast.latest] if look.forecast else []


def _to_the_opening(look: Look) -> dict[str, datetime]:
    """The steps done up to the opening: what a morning is made of."""
    steps = {step.key for step in look.now.expected.steps if step.step.before_opening or step.key == "open"}
    return {key: at for key, at in look.now.day.done.items() if key in steps}


def _row(look: Look, board: Board, until: datetime) -> Row:
    """One place; what is overdue after the morning stands in its words, not beside the plot."""
    now = look.now
    called = {step.key: step.step.says for step in now.expected.steps}
    done = [Spot(at, "done", f"{called[key]}: done") for key, at in _to_the_opening(look).items()]
    missing = [
        Spot(step.due_at, "missing", f"{step.step.says}: due and not done")
        for step in overdue(now, board)
        if step.due_at <= until
    ]
    moments = [spot.at for spot in done]
    spans = [Span(min(moments), max(moments), "way")] if len(moments) > 1 else []
    spots = [*done, *missing]
    if look.forecast:
        band, middle = foreseen.drawn(look.forecast, board)
        spans, spots = [*spans, band], [*spots, middle]
    return Row(
        now.place.place, now.place.name, says(look, board), look.mark, now.expected.opens_at, tuple(spots), tuple(spans)
    )
