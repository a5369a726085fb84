"""What was forecast of late openings against what came, and the late openings that nobody foresaw."""

from county.domain.picture import Picture
from county.domain.record.forecasts import Forecast, ForecastRecord, forecasts
from county.domain.record.late_openings import LateOpening
from dashboard import words
from dashboard.board_now import Board
from dashboard.markup import Markup
from dashboard.review.table import cells, table

_TOLD = ("Place", "Said", "By", "What was said", "Its own time", "Opened", "Minutes late", "Came true")
_UNFORESEEN = ("Place", "Its own time", "Opened", "Minutes late")
_CAME_TRUE = {True: "yes", False: "no", None: "not known yet"}


def record(board: Board, picture: Picture) -> ForecastRecord:
    """Every expectation of a late opening against its opening, once for everybody."""
    return forecasts(picture, board.as_of)


def sentence(found: ForecastRecord) -> str:
    """How many came true, how many did not, and how many late openings nobody foresaw."""
    unforeseen = words.counted(len(found.unforeseen), "late opening") if found.unforeseen else "no late opening"
    if not found.told:
        return f"The ledger holds no forecast of a late opening; {unforeseen} came without one."
    not_yet = len(found.told) - found.came_true - found.did_not
    still = f", {not_yet:,} {'is' if not_yet == 1 else 'are'} not known yet" if not_yet else ""
    return (
        f"{words.counted(len(found.told), 'forecast')} of a late opening: {found.came_true:,} came true, "
        f"{found.did_not:,} did not{still}. {words.begun(unforeseen)} had no forecast."
    )


def told(board: Board, found: ForecastRecord) -> Markup:
    """What was said and what came, in the order it was said; empty where nothing was."""
    return table(_TOLD, [_told(board, each) for each in found.told], label="Forecasts") if found.told else ""


def unforeseen(board: Board, found: ForecastRecord) -> Markup:
    """Late openings that nobody foresaw, the latest first; empty where there is none."""
    rows = [_unforeseen(board, each) for each in found.unforeseen]
    return table(_UNFORESEEN, rows, label="Late openings that nobody foresaw") if rows else ""


def _told(board: Board, each: Forecast) -> list[Markup]:
    return cells(
        words.commas([each.place.name, each.place.place]),
        board.wall.minute(each.case.learned_at),
        "the place" if each.case.raised_by == each.case.place else each.case.raised_by,
        each.case.says,
        board.wall.minute(each.opens_at),
        board.wall.minute(each.opened_at) if each.opened_at else "not reported",
        each.minutes_late,
        _CAME_TRUE[each.came_true],
    )


def _unforeseen(board: Board, each: LateOpening) -> list[Markup]:
    return cells(
        words.commas([each.place.name, each.place.place]),
        board.wall.minute(each.opens_at),
        board.wall.minute(each.opened_at) if each.opened_at else "not reported",
        each.minutes,
    )
