"""What was expected and what was found, so that a person sees at once where they differ."""

from collections.abc import Mapping
from difflib import SequenceMatcher
from types import MappingProxyType

from county.domain.cases import Case
from county.domain.entries import Entry
from county.domain.picture import PlaceNow
from dashboard import foreseen, words
from dashboard.board_now import Board
from dashboard.looks import EXPECTED_LATE
from dashboard.markup import Markup, quiet, tag, text

_RECORDED: Mapping[str, str] = MappingProxyType(
    {
        "seal-mismatch": "recorded at final testing",
        "seal-broken": "recorded at final testing",
        "protective-counter-mismatch": "recorded at final testing",
    }
)
_COMPARED = frozenset({"seal-mismatch", "protective-counter-mismatch", "nonzero-start-count"})

Piece = tuple[str, bool]


def differing(expected: str, found: str) -> tuple[list[Piece], list[Piece]]:
    """Both texts in pieces, each with whether it differs: letter by letter where they are equally long."""
    if len(expected) == len(found):
        unlike = [a != b for a, b in zip(expected, found, strict=True)]
        return _joined(expected, unlike), _joined(found, unlike)
    left, right = [True] * len(expected), [True] * len(found)
    for block in SequenceMatcher(None, expected, found, autojunk=False).get_matching_blocks():
        left[block.a : block.a + block.size] = [False] * block.size
        right[block.b : block.b + block.size] = [False] * block.size
    return _joined(expected, left), _joined(found, right)


def _joined(whole: str, unlike: list[bool]) -> list[Piece]:
    pieces: list[Piece] = []
    for letter, differs in zip(whole, unlike, strict=True):
        if pieces and pieces[-1][1] == differs:
            pieces[-1] = (pieces[-1][0] + letter, differs)
        else:
            pieces.append((letter, differs))
    return pieces


def expected_and_found(case: Case) -> Markup:
    """The two beside each other, what differs marked; empty where the case compares nothing."""
    if not case.found and not case.expected:
        return ""
    compared = case.exception in _COMPARED and case.expected and case.found
    left, right = (
        differing(case.expected, case.found) if compared else ([(case.expected, False)], [(case.found, False)])
    )
    rows = [
        ("expected" if case.exception not in _RECORDED else "recorded", left, _RECORDED.get(case.exception, "")),
        ("found", right, "in the latest report" if len(case.reports) > 1 and not case.is_pattern else ""),
    ]
    return tag(
        "dl", *(_line(*row, as_number=bool(compared)) for row in rows if row[1] != [("", False)]), cls="pr-evidence"
    )


def own_time_and_forecast(board: Board, case: Case) -> Markup:
    """Of a place expected late: its own opening time beside when it will likely open now, how sure that is and why.

    Empty for other cases, and where nothing is forecast: the place has opened, or was not heard from.
    """
    now = board.place_by_id[case.place]
    forecast = foreseen.forecast_of(board, now) if case.exception == EXPECTED_LATE and case.state.open else None
    if forecast is None:
        return ""
    rows = [
        ("expected", words.clock(forecast.opens_at, board.zone), "its own opening time"),
        ("found now", foreseen.likely(forecast, board), "in 8 of 10 such mornings between the two"),
    ]
    if board.as_of < forecast.opens_at:
        rows.append(("how sure", foreseen.in_ten(forecast.chance_late), "such mornings end in a late opening"))
    lines = [tag("dt", text(name)) + tag("dd", tag("b", text(said)), quiet(f" {more}")) for name, said, more in rows]
    return tag("dl", *lines, cls="pr-evidence") + tag("p", quiet(foreseen.why(board, now, forecast)))


def _line(name: str, pieces: list[Piece], beside: str, *, as_number: bool) -> Markup:
    said = "".join(tag("mark", text(piece)) if differs else text(piece) for piece, differs in pieces)
    value = tag("span", said, cls="pr-digits" if as_number else "")
    return tag("dt", text(name)) + tag("dd", value, tag("span", text(f" {beside}"), cls="pr-quiet") if beside else "")


def reports_behind(case: Case, now: PlaceNow) -> tuple[Entry, ...]:
    """The reports that raised the case, oldest first."""
    return tuple(entry for entry in now.day.told if entry.key in case.reports)
