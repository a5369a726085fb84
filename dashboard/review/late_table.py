"""Late openings as a table: minutes, how they became known, who acted, and what was the matter."""

from county.domain.picture import Picture
from county.domain.record.late_openings import LateOpening, late_openings
from county.domain.record.who_knew import first_to_act
from dashboard import words
from dashboard.board_now import Board
from dashboard.looks import trouble
from dashboard.markup import Markup, quiet, text
from dashboard.review.table import cells, table


def late(board: Board, picture: Picture) -> tuple[str, Markup]:
    """What to say of late openings, and each of them."""
    every = late_openings(picture, board.as_of)
    if not every:
        return "No place opened late.", ""
    opened = [each for each in every if each.opened_at]
    missing = len(every) - len(opened)
    says = " ".join(
        part
        for part in (
            f"{words.counted(len(opened), 'place')} opened late, the latest by "
            f"{words.counted(opened[0].minutes, 'minute')}."
            if opened
            else "",
            f"{words.counted(missing, 'place is', 'places are')} not reported open." if missing else "",
        )
        if part
    )
    heads = ("Place", "Its own time", "Opened", "Minutes late", "Office knew", "Who first acted", "What was the matter")
    return says, table(heads, [_late(board, each) for each in every], label="Late openings")


def _late(board: Board, each: LateOpening) -> list[Markup]:
    how = each.opening
    behind = quiet(f" {words.span(how.behind)} later") if how and words.whole_minutes(how.behind) else ""
    matter = words.listed(words.unbegun(trouble(case, board.plan)) for case in each.trouble)
    said = words.commas([matter, f"the place wrote: {each.told}" if each.told else ""]) or "the record does not say"
    return [
        *cells(
            words.commas([each.place.name, each.place.place]),
            board.wall.minute(each.opens_at),
            board.wall.second(each.opened_at) if each.opened_at else "not reported",
            each.minutes,
        ),
        text(board.wall.minute(how.learned_at) if how else "") + behind,
        *cells((first_to_act(each.late) if each.late else "") or "nobody", said),
    ]
