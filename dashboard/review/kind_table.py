"""Exceptions by kind as a table: how many, where, and how they ended."""

from county.domain.picture import Picture
from county.domain.record.by_kind import by_kind
from dashboard import words
from dashboard.board_now import Board
from dashboard.markup import Markup, mark, text
from dashboard.review.table import cells, table


def kinds(board: Board, picture: Picture) -> tuple[str, Markup]:
    """What to say of exceptions by kind, and each kind."""
    every = by_kind(picture.cases(), board.plan, board.as_of)
    if not every:
        return "No exception was raised.", ""
    cases, still = sum(each.cases for each in every), sum(each.open for each in every)
    says = f"{words.counted(cases, 'case')} of {words.counted(len(every), 'kind')}; {still:,} still open."
    heads = (
        "Kind",
        "Worst effect",
        "Cases",
        "Places",
        "Open",
        "Cleared",
        "By a report",
        "Withdrawn",
        "Half cleared in",
    )
    rows = [
        [
            mark(each.worst.value) + text(each.says),
            text(words.EFFECT[each.worst]),
            *cells(each.cases, each.places, each.open, each.cleared, each.cleared_by_facts, each.withdrawn),
            text(f"{each.clearing.median} min"),
        ]
        for each in every
    ]
    return says, table(heads, rows, label="Exceptions by kind")
