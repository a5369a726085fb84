"""The closing chart: one row a place; closing steps done, steps due and not done, its own closing, the way, and now."""

from collections import Counter
from collections.abc import Sequence
from datetime import datetime, timedelta

from county.domain.closing import ClosingStage, PlaceClosing
from county.domain.expected import ExpectedStep
from county.domain.plan import Anchor
from dashboard import words
from dashboard.board_now import Board
from dashboard.closing_now import MARKS, places, says
from dashboard.drawing import Spec, drawn
from dashboard.feed import once
from dashboard.list_row import ListRow
from dashboard.rows_in_time import Row, Span, Spot

ROWS, FEW = 14, 8
BEFORE, AFTER = timedelta(minutes=10), timedelta(minutes=30)


def chosen(board: Board) -> tuple[PlaceClosing, ...]:
    """The places that need a look, and when these are few, others that are not back yet."""
    every = once(places, board)
    needing = [each for each in every if each.stage.needs_a_look][:ROWS]
    others = [each for each in every if each.stage in (ClosingStage.ON_THE_WAY, ClosingStage.CLOSING)]
    return (*needing, *others[: max(0, FEW - len(needing))])


def folded(board: Board) -> str:
    """The places that are not drawn one by one, counted by how they stand."""
    drawn_ones = {each.now.place.place for each in once(chosen, board)}
    rest = Counter(each.stage for each in once(places, board) if each.now.place.place not in drawn_ones)
    look = sum(count for stage, count in rest.items() if stage.needs_a_look)
    named = {
        ClosingStage.ON_THE_WAY: "on the way",
        ClosingStage.CLOSING: "closing",
        ClosingStage.BACK: "back",
        ClosingStage.STILL_OPEN: "open within their hours",
    }
    others = words.commas(f"{rest[stage]:,} {said}" for stage, said in named.items() if rest[stage])
    more = f"{words.counted(look, 'more place needs', 'more places need')} a look. " if look else ""
    return f"{more}{f'Of the other places {others}.' if others else ''}"


def closing_chart(board: Board) -> Spec:
    """The chosen places' closing, from a little before the first closing to a little after the last step is due."""
    rows = once(chosen, board)
    usual = Counter(now.expected.closes_at for now in board.places).most_common(1)[0][0]
    heads = {
        board.as_of: f"{board.moment_word} {words.clock(board.as_of, board.zone)}",
        usual: f"closes {words.clock(usual, board.zone)}",
    }
    window = _window(board, rows, usual)
    return drawn([_row(each, board, window) for each in rows], window, board.zone, heads, now=board.as_of)


def _window(board: Board, rows: Sequence[PlaceClosing], usual: datetime) -> tuple[datetime, datetime]:
    done = [at for each in rows for at in _done(each).values()]
    due = [step.due_at for each in rows for step in _steps(each)]
    first = min([usual, *(each.now.expected.closes_at for each in rows), *done])
    return first - BEFORE, max([usual + AFTER, *done, *due, min(board.as_of, usual + timedelta(hours=5))]) + BEFORE


def _steps(each: PlaceClosing) -> list[ExpectedStep]:
    return [step for step in each.now.expected.steps if step.step.anchor is Anchor.CLOSING]


def _done(each: PlaceClosing) -> dict[str, datetime]:
    steps = {step.key for step in _steps(each)}
    return {key: at for key, at in each.now.day.done.items() if key in steps}


def _row(each: PlaceClosing, board: Board, window: tuple[datetime, datetime]) -> Row:
    now, done = each.now, _done(each)
    called = {step.key: step.step.says for step in _steps(each)}
    spots = [Spot(at, "done", f"{called[key]}: done") for key, at in done.items()]
    spots += [
        Spot(step.due_at, "missing", f"{step.step.says}: due and not done")
        for step in each.overdue
        if window[0] <= step.due_at <= window[1]
    ]
    return Row(
        now.place.place,
        now.place.name,
        says(each, board),
        MARKS[each.stage],
        now.expected.closes_at,
        tuple(spots),
        tuple(_spans(each, board)),
        rule_says="closes",
    )


def _spans(each: PlaceClosing, board: Board) -> list[Span]:
    """While it was over its hours or voters stood in line, and while the material was on the way."""
    closes, day = each.now.expected.closes_at, each.now.day
    spans = []
    if each.minutes_over:
        spans.append(Span(closes, board.as_of, "at-risk", "Not reported closed"))
    if each.still_in_line is not None and day.closed_at:
        spans.append(Span(day.closed_at, board.as_of, "at-risk", "Voters still in line"))
    left = each.custody.left_at
    if left:
        spans.append(Span(left, each.custody.back_at or board.as_of, "way", "On the way to the office"))
    return [span for span in spans if span.ends > span.begins]


def rows(board: Board) -> list[ListRow]:
    """The chart's rows as a list, for a narrow screen."""
    return [
        ListRow(each.now.place.place, MARKS[each.stage], each.now.place.name, says(each, board))
        for each in once(chosen, board)
    ]
