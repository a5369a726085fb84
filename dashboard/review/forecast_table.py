"""Forecasts of late openings as a table, against what happened."""

from county.domain.picture import Picture
from county.domain.record.forecasts import ForecastRecord, forecasts
from dashboard import words
from dashboard.board_now import Board
from dashboard.markup import Markup
from dashboard.review.table import cells, table


def foreseen(board: Board, picture: Picture) -> tuple[str, Markup]:
    """What to say of forecasts, and each of them against what happened."""
    found = forecasts(picture, board.as_of)
    says = _foreseen(found)
    if not found.told:
        return says, ""
    heads = ("Place", "Said", "By", "What was said", "Its own time", "Opened", "Minutes late", "Came true")
    rows = [
        cells(
            words.commas([each.place.name, each.place.place]),
            words.clock(each.case.learned_at, board.zone),
            "the place" if each.case.raised_by == each.case.place else each.case.raised_by,
            each.case.says,
            words.clock(each.opens_at, board.zone),
            words.clock(each.opened_at, board.zone) if each.opened_at else "not reported",
            each.minutes_late,
            {True: "yes", False: "no", None: "not known yet"}[each.came_true],
        )
        for each in found.told
    ]
    return says, table(heads, rows, label="Forecasts")


def _foreseen(found: ForecastRecord) -> str:
    unforeseen = words.counted(len(found.unforeseen), "late opening")
    if not found.told:
        return f"The ledger holds no forecast of a late opening; {unforeseen} came without one."
    return (
        f"{words.counted(len(found.told), 'forecast')} of a late opening: {found.came_true:,} came true, "
        f"{found.did_not:,} did not. {words.begun(unforeseen)} had no forecast."
    )
