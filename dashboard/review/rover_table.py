"""The rovers' loads as a table: cases, minutes under way and on site, and which times are missing."""

from datetime import timedelta

from county.domain.picture import Picture
from county.domain.record.rover_loads import rover_loads
from dashboard import words
from dashboard.board_now import Board
from dashboard.markup import Markup
from dashboard.review.table import cells, table


def rovers(board: Board, picture: Picture) -> tuple[str, Markup]:
    """What to say of the rovers' loads, and each rover."""
    every = rover_loads(picture, board.as_of)
    had = [each for each in every if each.stints]
    if not every:
        return "There are no rovers on the roster.", ""
    stints = sum(len(each.stints) for each in had)
    says = f"{words.counted(len(had), 'rover')} of {len(every):,} had {words.counted(stints, 'case')} between them."
    missing = sum(each.no_way_time + each.no_site_time for each in had)
    if missing:
        says += f" {words.begun(words.counted(missing, 'time is', 'times are'))} missing, so that minutes are too few."
    heads = (
        *("Rover", "Cases", "Reached", "Cleared", "Turned down", "Given over", "Under way", "On site"),
        *("First", "Last", "Times missing"),
    )
    rows = [
        cells(
            words.commas([each.name, each.rover]),
            *(len(each.stints), each.reached, each.cleared, each.turned_down, each.given_over),
            *(_minutes(each.under_way_minutes), _minutes(each.on_site_minutes)),
            board.wall.minute(each.first) if each.first else "",
            ("still out" if each.out else board.wall.minute(each.last)) if each.last else "",
            each.no_way_time + each.no_site_time,
        )
        for each in every
    ]
    return says, table(heads, rows, label="Rovers' loads")


def _minutes(minutes: int) -> str:
    return words.span(timedelta(minutes=minutes)) if minutes else ""
