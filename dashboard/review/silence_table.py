"""Silences as a table: since when, until when, whether the clock noticed, and who acted."""

from county.domain.picture import Picture
from county.domain.record.silences import silences
from county.domain.record.who_knew import first_to_act
from dashboard import words
from dashboard.board_now import Board
from dashboard.markup import Markup
from dashboard.review.table import cells, table


def silent(board: Board, picture: Picture) -> tuple[str, Markup]:
    """What to say of silences, and each of them."""
    every = silences(picture, board.as_of)
    if not every:
        return "Every place was heard from as often as the plan asks.", ""
    places = len({each.place.place for each in every})
    never = sum(each.until is None for each in every)
    lasting = f" {words.counted(never, 'of them lasts', 'of them last')} to the end of the record." if never else ""
    heard = f"{words.counted(len(every), 'silence')} at {words.counted(places, 'place')}"
    says = f"{heard}, longer than the plan allows.{lasting}"
    heads = ("Place", "Heard from last, or due", "Heard from again", "Length", "Plan allows", "Noticed", "Who acted")
    rows = [
        cells(
            words.commas([each.place.name, each.place.place]),
            board.wall.second(each.since),
            board.wall.second(each.until) if each.until else "not any more",
            words.span(each.length),
            words.span(each.allowed),
            board.wall.minute(each.noticed.learned_at) if each.noticed else "no",
            first_to_act(each.noticed) if each.noticed else "",
        )
        for each in every
    ]
    return says, table(heads, rows, label="Silences")
