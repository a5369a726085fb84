"""The day as the slider sees it: from where to where, where it begins, and how far the office was behind along it."""

from bisect import bisect_right
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta

from county.domain.record.opening import opening
from dashboard import words
from dashboard.board_now import Board
from dashboard.county_sentence import usual_opening
from dashboard.feed import once

STEP = timedelta(minutes=1)
SPEEDS = (60, 120, 300, 600)
BEFORE, AFTER_OPENING = timedelta(minutes=30), timedelta(minutes=10)
WORTH_SAYING = timedelta(minutes=5)
"""An opening learned sooner than this is on its way, not behind."""
_STRIP = timedelta(minutes=5)


def ends(board: Board) -> tuple[datetime, datetime]:
    """From a full hour before the first step is due to the end of the record, in whole minutes (aware UTC)."""
    first = min(place.expected.first_due_at for place in board.places) - BEFORE
    begins = first.replace(minute=0, second=0, microsecond=0)
    return begins, max(begins + timedelta(hours=1), board.as_of.replace(second=0, microsecond=0))


def slider(board: Board, at: datetime, chosen: str) -> dict[str, object]:
    """What the slider is given; `chosen` is another word whenever the moment was chosen elsewhere than on it."""
    begins, until = once(ends, board)
    opens, closes = once(usual_opening, board), max(place.expected.closes_at for place in board.places)
    marks = [(opens, f"opens {words.clock(opens, board.zone)}"), (closes, f"closes {words.clock(closes, board.zone)}")]
    return {
        "begins": begins.timestamp(),
        "ends": until.timestamp(),
        "at": at.timestamp(),
        "step": STEP.total_seconds(),
        "zone": board.plan.election.zone,
        "speeds": list(SPEEDS),
        "behind": once(behind, board),
        "marks": [(moment.timestamp(), says) for moment, says in marks if begins <= moment <= until],
        "go": chosen,
    }


def behind(board: Board) -> list[tuple[float, float]]:
    """Along the day (0 to 1) the openings that the office had not heard of for minutes, as a share of the most."""
    begins, until = once(ends, board)
    moments, unheard = _unheard(board)
    most = max(unheard, default=0)
    if not most:
        return []
    return [
        (round((at - begins) / (until - begins), 4), round(n / most, 4)) for at, n in zip(moments, unheard, strict=True)
    ]


def furthest_behind(board: Board) -> datetime:
    """The moment at which the office knew least of what was open; a little after opening where it always knew."""
    begins, until = once(ends, board)
    moments, unheard = _unheard(board)
    at = max(zip(unheard, moments, strict=True), key=lambda each: each[0])[1] if any(unheard) else None
    return min(max(at or once(usual_opening, board) + AFTER_OPENING, begins), until)


def from_seconds(seconds: object) -> datetime | None:
    """A moment as the slider told it, in seconds since 1970; None where it told none."""
    return datetime.fromtimestamp(seconds, UTC) if isinstance(seconds, int | float) else None


def _unheard(board: Board) -> tuple[Sequence[datetime], Sequence[int]]:
    begins, until = once(ends, board)
    moments = [begins + n * _STRIP for n in range(int((until - begins) / _STRIP) + 1)]
    every = (opening(place.day) for place in board.places)
    found = [how for how in every if how and how.behind >= WORTH_SAYING]
    opened = sorted(how.opened_at for how in found)
    learned = sorted(max(how.opened_at, how.learned_at) for how in found)
    return moments, [bisect_right(opened, at) - bisect_right(learned, at) for at in moments]
