"""One place's day as a line in time: its steps, its counts, its interruptions and its cases, a row each."""

from datetime import datetime, timedelta

from county.domain.broadcasts import Broadcast
from county.domain.cases import Case
from county.domain.expected import ExpectedStep
from county.domain.interruptions import Interruption
from county.domain.picture import PlaceNow
from county.domain.plan import Anchor
from dashboard import foreseen, words
from dashboard.board_now import Board
from dashboard.drawing import Spec, drawn
from dashboard.looks import trouble
from dashboard.rows_in_time import Row, Span, Spot

BEFORE, AFTER = timedelta(minutes=10), timedelta(minutes=30)
CLOSING_FROM = timedelta(hours=1)
MOST_CASES = 6


def place_day(board: Board, place: str) -> Spec:
    """The place's day so far; the closing steps appear an hour before it closes."""
    now = board.place_by_id[place]
    zone = board.zone
    opens_at = now.expected.opens_at
    rows = [*(_step(step, now, board) for step in _steps(now, board)), *_counts(now, board)]
    rows += [_message(each, opens_at, board) for each in now.day.messages]
    rows += [_interruption(each, opens_at, board) for each in now.day.interruptions]
    rows += [_case(case, opens_at, board) for case in now.cases[:MOST_CASES]]
    heads = {
        board.as_of: f"{board.moment_word} {words.clock(board.as_of, zone)}",
        now.expected.opens_at: f"opens {words.clock(now.expected.opens_at, zone)}",
    }
    return drawn(rows, _window(now, board), zone, heads, now=board.as_of)


def _steps(now: PlaceNow, board: Board) -> list[ExpectedStep]:
    closing = board.as_of >= now.expected.closes_at - CLOSING_FROM
    return [step for step in now.expected.steps if closing or step.step.anchor is Anchor.OPENING]


def _window(now: PlaceNow, board: Board) -> tuple[datetime, datetime]:
    begins = min([now.expected.first_due_at, *now.day.done.values()]) - BEFORE
    forecast = foreseen.forecast_of(board, now)
    ahead = [forecast.latest] if forecast else []
    return begins, max(now.expected.opens_at, board.as_of, *ahead) + AFTER


def _step(step: ExpectedStep, now: PlaceNow, board: Board) -> Row:
    done, says = now.day.done.get(step.key), step.step.says
    devices = [(device, at) for (key, device), at in now.day.device_done.items() if key == step.key and device]
    spots = [Spot(at, "done", f"{says}, {device}") for device, at in devices]
    if done and not spots:
        spots = [Spot(done, "done", f"{says}: done")]
    missing = done is None and step.overdue_at <= board.as_of
    due = Spot(step.due_at, "missing" if missing else "due", f"{says}: due")
    note = _how_far(step, done, len(devices), board)
    forecast = foreseen.forecast_of(board, now) if step.key == "open" else None
    band, middle = foreseen.drawn(forecast, board) if forecast else (None, None)
    spots += [middle] if middle else []
    note = words.commas([note, foreseen.likely(forecast, board) if forecast else ""])
    name = words.begun(words.step(step.key))
    spans = (band,) if band else ()
    return Row(f"step {step.key}", name, note, "", now.expected.opens_at, (due, *spots), spans)


def _how_far(step: ExpectedStep, done: datetime | None, devices: int, board: Board) -> str:
    """When the step was done, or since when it is waited for, and on how many devices it is done."""
    due = words.clock(step.due_at, board.zone)
    if done:
        late = done - step.due_at
        after = f"{words.span(late)} after it was due" if late >= timedelta(minutes=1) else ""
        return words.commas([f"done {words.clock(done, board.zone)}", after])
    overdue = step.overdue_at <= board.as_of
    waited = f"was due {due}, {words.span(board.as_of - step.due_at)} ago" if overdue else f"due {due}"
    return words.commas([waited, f"{devices} of {words.counted(len(step.devices), 'device')}" if devices else ""])


def _counts(now: PlaceNow, board: Board) -> list[Row]:
    if not now.day.counts:
        return []
    spots = tuple(Spot(entry.happened_at, "count", "Count") for entry in now.day.counts)
    last = now.day.counts[-1]
    ballots, line = last.number("public_counter"), last.number("in_line")
    said = [
        words.counted(ballots, "ballot") if ballots is not None else "",
        words.counted(line, "person in line", "people in line") if line is not None else "",
        f"at {words.clock(last.happened_at, board.zone)}",
    ]
    return [Row("counts", "Counts", words.commas(said), "", now.expected.opens_at, spots)]


def _message(each: Broadcast, opens_at: datetime, board: Board) -> Row:
    sent = Spot(each.sent_at, "due", f"Message from {each.by}")
    if each.seen_at is None:
        note = f"not acknowledged for {words.span(board.as_of - each.sent_at)}"
        return Row(f"message {each.message}", "Message", note, "", opens_at, (sent,))
    seen = Spot(each.seen_at, "done", words.commas(["Acknowledged", each.seen_role]))
    note = f"acknowledged {words.clock(each.seen_at, board.zone)}"
    return Row(f"message {each.message}", "Message", note, "", opens_at, (sent, seen))


def _interruption(each: Interruption, opens_at: datetime, board: Board) -> Row:
    ends = each.ends or board.as_of
    until = f"to {words.clock(ends, board.zone)}" if each.ends else "and still"
    left = words.counted(each.voters_left, "voter left", "voters left") if each.voters_left is not None else ""
    note = words.commas([f"{words.clock(each.begins, board.zone)} {until}, {words.span(ends - each.begins)}", left])
    kind = board.plan.kind(each.exception).says
    span = Span(each.begins, ends, each.effect.value, f"{kind}. Offered meanwhile: {each.fallback or 'not told'}")
    return Row(f"interruption {each.key}", words.begun(words.EFFECT[each.effect]), note, "", opens_at, (), (span,))


def _case(case: Case, opens_at: datetime, board: Board) -> Row:
    ends = case.ended_at or board.as_of
    span = Span(case.raised_at, ends, case.effect.value if case.state.open else "ended", case.says)
    note = f"{words.STATE[case.state]}, {words.span(ends - case.raised_at)}"
    name = words.begun(trouble(case, board.plan))
    return Row(f"case {case.case}", name, note, "", opens_at, (), (span,))
