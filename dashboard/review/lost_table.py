"""Time lost as a table: late openings and stops, the county's threshold, and what is recorded but not counted."""

from county.domain.effects import Effect
from county.domain.interruptions import Interruption
from county.domain.picture import Picture
from county.domain.record.time_lost import TimeLost, time_lost
from dashboard import words
from dashboard.board_now import Board
from dashboard.markup import Markup
from dashboard.review.table import cells, table


def lost(board: Board, picture: Picture) -> tuple[str, Markup]:
    """What to say of time lost, and each place that lost any or had an interruption."""
    every = time_lost(picture, board.as_of)
    if not every:
        return "No place lost time, and none reported an interruption.", ""
    counted = [each for each in every if each.minutes and each.opened_at]
    missing = sum(each.opened_at is None for each in every)
    limits = board.plan.limits
    threshold = f"{'at least' if limits.extension_inclusive else 'more than'} {limits.extension_minutes} minutes"
    reach = sum(each.reaches_threshold for each in counted)
    says = (
        f"{words.counted(len(counted), 'place')} lost {words.counted(sum(e.minutes for e in counted), 'minute')} of "
        f"voting in all; {reach:,} of them lost {threshold}, the county's threshold."
    )
    if missing:
        says += f" {words.begun(words.counted(missing, 'place is', 'places are'))} not reported open at all."
    heads = ("Place", "Late", "Stops", "Minutes lost", "Closes at", "If given back", "Recorded, not counted")
    return says, table(heads, [_lost(board, each) for each in every], label="Time lost")


def _lost(board: Board, each: TimeLost) -> list[Markup]:
    stops = words.listed(
        f"{board.wall.minute(stop.begins)} to {board.wall.minute(stop.ends)} "
        f"{words.unbegun(board.plan.kind(stop.why.exception).says)}"
        for stop in each.stops
        if stop.why
    )
    return cells(
        words.commas([each.place.name, each.place.place]),
        "not reported open" if each.opened_at is None else f"{each.late_minutes} min" if each.late_minutes else "",
        stops,
        each.minutes if each.opened_at else "not known",
        board.wall.minute(each.closes_at),
        board.wall.minute(each.closes_if_given_back) if each.reaches_threshold and each.opened_at else "",
        words.listed(_impaired(board, one) for one in each.impaired),
    )


def _impaired(board: Board, each: Interruption) -> str:
    ends = board.wall.minute(each.ends) if each.ends else "no end told"
    kind = words.unbegun(board.plan.kind(each.exception).says)
    device = f" at {each.device}" if each.device else ""
    # a stop of the whole place that is not counted is one that a person withdrew
    withdrawn = " (withdrawn)" if each.effect in (Effect.STOPPED, Effect.DANGER) and not each.device else ""
    return f"{board.wall.minute(each.begins)} to {ends} {words.EFFECT[each.effect]}{device}, {kind}{withdrawn}"
