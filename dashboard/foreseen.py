"""When a place will likely open, as it is said: whether it matters yet, the words, and how sure they are."""

from datetime import datetime, timedelta
from enum import StrEnum

from county.domain.both_orders import View
from county.domain.opening_forecast import OpeningForecast
from county.domain.picture import PlaceNow
from county.domain.plan import Plan
from county.domain.standing import Standing
from dashboard import words
from dashboard.board_now import Board
from dashboard.rows_in_time import Span, Spot

PERHAPS = 0.5
"""From this share of the plan's chance on a place may be late: below, a board would speak of half the county."""
_NOT_OPEN = (Standing.PREPARING, Standing.READY, Standing.LATE)


class Outlook(StrEnum):
    """What a forecast comes to by the county's own limit."""

    ON_COURSE = "on-course"
    PERHAPS = "perhaps"
    LATE = "late"


def forecast_of(board: Board, now: PlaceNow) -> OpeningForecast | None:
    """The forecast of a place; None once it is open, while it is not heard from, and earlier than the plan asks for."""
    forecast = board.forecasts.get(now.place.place) if now.standing in _NOT_OPEN else None
    early = forecast is None or board.as_of < forecast.opens_at - board.plan.forecast.ahead
    return None if early else forecast


def outlook(forecast: OpeningForecast, plan: Plan) -> Outlook:
    """Whether the place is on course."""
    if forecast.chance_late >= plan.forecast.chance:
        return Outlook.LATE
    return Outlook.PERHAPS if forecast.chance_late >= PERHAPS * plan.forecast.chance else Outlook.ON_COURSE


def likely(forecast: OpeningForecast, board: Board) -> str:
    """As a row says it: likely 06:14 (06:05 to 06:31)."""
    return f"likely {moment(forecast, board)}"


def moment(forecast: OpeningForecast, board: Board) -> str:
    """The middle and the band around it: 06:14 (06:05 to 06:31)."""
    return f"{_at(forecast.middle, board)} ({band(forecast, board)})"


def band(forecast: OpeningForecast, board: Board) -> str:
    """Between when and when it opens in 8 of 10 such mornings: 06:05 to 06:31."""
    return f"{_at(forecast.earliest, board)} to {_at(forecast.latest, board)}"


def in_ten(chance: float) -> str:
    """A chance as people say it: 7 in 10; never none in 10 or all of them."""
    tenths = int(chance * 10 + 0.5)
    if tenths < 1:
        return "fewer than 1 in 10"
    return "more than 9 in 10" if tenths > 9 else f"{tenths} in 10"


def drawn(forecast: OpeningForecast, board: Board) -> tuple[Span, Spot]:
    """The band and its middle, faint where the place is on course."""
    kind = f"likely-{outlook(forecast, board.plan)}"
    says = f"opens between {band(forecast, board).replace(' to ', ' and ')} in 8 of 10 such mornings"
    says = f"{likely(forecast, board)}; {says}; late: {in_ten(forecast.chance_late)}"
    return Span(forecast.earliest, forecast.latest, kind, says), Spot(forecast.middle, kind, "Likely opens")


def legend(board: Board) -> str:
    """What the marks of the morning are."""
    bar = ", a bar when it will likely open (8 in 10)" if board.forecasts else ""
    return f"a dot is a step done, a ring a step overdue{bar}; what needs a look, worst first"


def day_legend(board: Board, now: PlaceNow) -> str:
    """What the marks of a place's day are."""
    ahead = "; at the opening, when it will likely be" if forecast_of(board, now) else ""
    return f"a dot is done, a ring is when it was due, a bar is how long it lasted{ahead}"


def none_as_it_happened(board: Board) -> str:
    """Why a page of what happened has no forecasts; empty elsewhere."""
    if board.then is not View.HAPPENED:
        return ""
    return "No openings are forecast here: a forecast is made of what was known. See it as the office knew it then."


def sentence(board: Board, now: PlaceNow) -> str:
    """What is forecast of a place and why; empty where nothing is."""
    forecast = forecast_of(board, now)
    if forecast is None:
        return ""
    if outlook(forecast, board.plan) is Outlook.ON_COURSE:
        return f"By its steps so far it opens in time, at {_at(forecast.middle, board)}. {why(board, now, forecast)}"
    minutes = words.whole_minutes(forecast.middle - forecast.opens_at + timedelta(seconds=30))
    after = f", {words.counted(minutes, 'minute')} after its own time" if minutes else ""
    sure = f" The chance that it opens late is {in_ten(forecast.chance_late)}."
    return (
        f"It will likely open at {_at(forecast.middle, board)}{after}; in 8 of 10 such mornings between "
        f"{band(forecast, board).replace(' to ', ' and ')}.{sure if board.as_of < forecast.opens_at else ''} "
        f"{why(board, now, forecast)}"
    )


def why(board: Board, now: PlaceNow, forecast: OpeningForecast) -> str:
    """What it is reckoned from, and which step it waits for."""
    before = [step for step in now.expected.steps if step.step.before_opening]
    done = sum(step.key in now.day.done for step in before)
    reckoned = f"Reckoned from the steps it reported: {done:,} of {words.counted(len(before), 'step')} done"
    step = next((step for step in before if step.key == forecast.step), None)
    if step is None:
        return f"{reckoned}, only the opening is to come."
    gone = board.as_of - step.due_at
    when = f"was due {words.span(gone)} ago" if gone >= timedelta(minutes=1) else f"is due {_clock(step.due_at, board)}"
    return f"{reckoned}; the next, {words.step(step.key)}, {when}."


def _at(moment: datetime, board: Board) -> str:
    """The nearest whole minute: nobody can foresee seconds."""
    return _clock(moment + timedelta(seconds=30), board)


def _clock(moment: datetime, board: Board) -> str:
    return words.clock(moment, board.zone)
