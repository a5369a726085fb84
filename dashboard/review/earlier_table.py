"""This election beside an earlier one as a table: each step before opening, then and now."""

from collections.abc import Iterable, Sequence
from datetime import timedelta

from county.domain.earlier_steps import EarlierStep
from county.domain.picture import Picture
from county.domain.record.earlier_compared import Spread, compared
from dashboard import words
from dashboard.board_now import Board
from dashboard.markup import Markup
from dashboard.review.table import cells, table


def beside_earlier(board: Board, picture: Picture, earlier: Sequence[EarlierStep]) -> tuple[str, Markup]:
    """What to say of this election beside an earlier one, and each step before opening."""
    rows = compared(picture, earlier, board.as_of)
    opened = next((row for row in rows if row.step == "open"), None)
    says = f"Beside the {earlier[-1].election}:" if earlier else "No earlier election is at hand."
    if opened and opened.now and opened.then:
        says = (
            f"Half the places were open {_from(opened.now.half)} their own opening time, nine tenths "
            f"{_from(opened.now.nine_tenths)}; at the {earlier[-1].election} half {_from(opened.then.half)}, "
            f"nine tenths {_from(opened.then.nine_tenths)}."
        )
    heads = ("Step", "Half", "Then", "Nine tenths", "Then", "Done by opening", "Then", "Later than then")
    told = [
        cells(
            row.says,
            *_pair(row.now, row.then, "half"),
            *_pair(row.now, row.then, "nine_tenths"),
            f"{row.now.by_opening:,} of {row.due:,}" if row.now else f"0 of {row.due:,}",
            f"{row.then.by_opening:,} of {row.then.places:,}" if row.then else "",
            f"{row.later_than_then:,} of {row.of_both:,}",
        )
        for row in rows
    ]
    return says, table(heads, told, label="Beside an earlier election") if earlier else ""


def _pair(now: Spread | None, then: Spread | None, name: str) -> Iterable[str]:
    return (_from(getattr(each, name)) if each else "nobody" for each in (now, then))


def _from(minutes: int) -> str:
    """Minutes from the opening time in words: 12 min before, at, 3 min after."""
    if not minutes:
        return "at"
    return f"{words.span(timedelta(minutes=abs(minutes)))} {'before' if minutes < 0 else 'after'}"
