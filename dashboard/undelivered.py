"""Notices given up for good: whom the board could not tell, of what, and why."""

from county.domain.messages import Undelivered
from dashboard import feed, words
from dashboard.board_now import Board
from dashboard.looks import trouble
from dashboard.markup import Markup, quiet, tag, text

SHOWN = 3


def lines(board: Board) -> list[Markup]:
    """A line for each that is about an open case, worst first, then the latest; how many more there are last."""
    failed = feed.current().undelivered()
    of_open = [each for each in failed if each.case in board.case_by_id and board.case_by_id[each.case].state.open]
    of_open.sort(key=lambda each: board.case_by_id[each.case].effect.rank)
    said = [_line(board, each) for each in of_open[:SHOWN]]
    more = [
        words.counted(len(of_open) - SHOWN, "more notice") if len(of_open) > SHOWN else "",
        f"{words.counted(len(failed) - len(of_open), 'notice')} of cases that are over" if said else "",
    ]
    rest = words.listed(part for part in more if part and not part.startswith("0 "))
    return [*said, *([quiet(f"And {rest}.")] if rest else [])]


def drawn(said: list[Markup]) -> Markup:
    """The lines as a list."""
    return tag("ul", *(tag("li", line) for line in said), cls="pr-undelivered")


def _line(board: Board, failed: Undelivered) -> Markup:
    case = board.case_by_id[failed.case]
    whom = failed.person if failed.person == failed.role else f"{failed.person}, {failed.role}"
    place = board.place_by_id[failed.place].place.name
    about = f"{trouble(case, board.plan)} at {place}, raised {words.clock(case.raised_at, board.zone)}"
    return (
        tag("b", text(whom))
        + text(f" was not told of {about}: {failed.channel} ")
        + quiet(f"({failed.why.rstrip('.')}; owed {words.clock(failed.owed_at, board.zone)})")
    )
