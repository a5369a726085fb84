"""The five questions a reviewer asks of a place, answered: when, by whose clock, who knew, what was done, how long."""

from datetime import timedelta

from county.domain.cases import Case
from county.domain.entries import Stamp
from county.domain.picture import PlaceNow
from county.domain.place_state import PlaceState
from county.domain.record.late_openings import LateOpening
from county.domain.record.opening import Opening, opening
from dashboard import entry_words, words
from dashboard.board_now import Board
from dashboard.markup import Markup, quiet, tag, text
from dashboard.review import points
from dashboard.review.took import how_long, minutes_in_words

MOST_CASES = 3
_CLOCKS = {
    Stamp.TOLD: "The sender's own: the time is as told",
    Stamp.RECEIVED: "The office's: no time was told, so the time of receipt was taken",
    Stamp.CLOCK_AHEAD: "The office's: the sender's clock was ahead and told",
    Stamp.CLOCK_BEHIND: "The office's: the sender's clock was too far behind and told",
}


def sentence(board: Board, now: PlaceNow) -> str:
    """Mill Creek School opened at 06:34, 34 minutes late. The office knew it at 06:52."""
    name, how = now.place.name, opening(now.day)
    late = f", {minutes_in_words(now.minutes_late)} late" if now.minutes_late else ""
    if how is None:
        due = board.wall.minute(now.expected.opens_at)
        return f"{name} is not reported open{late}. It was to open at {due}."
    when = "in time" if not late else late.removeprefix(", ")
    opened = f"{name} opened at {board.wall.minute(how.opened_at)}, {when}."
    return f"{opened} The office knew it at {board.wall.minute(how.learned_at)}."


def five(board: Board, now: PlaceNow, state: PlaceState, late: LateOpening | None) -> Markup:
    """The five answers, each under its question."""
    cases = about(now, late)
    how = opening(now.day)
    answers = (
        ("When did it open?", _when(board, now, how)),
        ("By whose clock?", _whose_clock(how)),
        ("Who knew, and when?", points.knew(board, state, cases, how)),
        ("What was done?", points.done(board, state, cases)),
        ("How long did it take?", how_long(board, now, cases)),
    )
    return tag("dl", *(tag("div", tag("dt", text(asks)) + tag("dd", said)) for asks, said in answers), cls="pr-answers")


def about(now: PlaceNow, late: LateOpening | None) -> tuple[Case, ...]:
    """The cases the answers speak of: the late opening and what was the matter then, else the worst of the day."""
    if late is None:
        return now.cases[:MOST_CASES]
    return tuple(case for case in (late.late, *late.trouble) if case)[:MOST_CASES]


def _when(board: Board, now: PlaceNow, how: Opening | None) -> Markup:
    due = board.wall.minute(now.expected.opens_at)
    if how is None:
        return text(f"No report says that it opened. Its own opening time was {due}.")
    apart = how.opened_at - now.expected.opens_at
    span = words.span(abs(apart))
    when = (
        f"{span} after"
        if apart >= timedelta(minutes=1)
        else f"{span} before"
        if -apart >= timedelta(minutes=1)
        else "at"
    )
    said = [text(f"{board.wall.second(how.opened_at)}, {when} its own opening time {due}.")]
    if how.corrections:
        first = board.wall.minute(how.told.happened_at)
        by = words.listed(f"{each.by} at {board.wall.minute(each.received_at)}" for each in how.corrections)
        said.append(tag("p", tag("s", text(f"first told as {first}")), text(f", put right by {by}")))
    return "".join(said)


def _whose_clock(how: Opening | None) -> Markup:
    if how is None:
        return text("No time was told.")
    report = how.report
    told = f" {report.told_at}" if report.told_at else ""
    said = f"{_CLOCKS[report.stamp]}{told}. Told by {entry_words.sender(how.told)}."
    number = f" Entry {how.told.seq:,} of the ledger." if how.told.seq else ""
    a_set_clock = " The office's clock had been set, as for a rehearsal." if report.clock == "set" else ""
    return text(said) + quiet(number + a_set_clock)
