"""What the map of the Rovers page is given: rovers, the places whose cases they are for, and the ways between."""

from collections.abc import Sequence

from county.domain.travel import Spot
from dashboard import words
from dashboard.board_now import Board
from dashboard.feed import once
from dashboard.looks import looks, says
from dashboard.places_drawn import legend as places_legend
from dashboard.rovers import said
from dashboard.rovers.road import OnTheRoad, is_assigned, wanting


def map_of_rovers(board: Board, rovers: Sequence[OnTheRoad]) -> dict[str, object]:
    """Rovers where they were last known to be, drawn over the places that want one, and their ways.

    A way is from longitude and latitude to longitude and latitude, and how sure it is: gone, assigned or suggested.
    """
    drawn = [row for each in rovers if (row := _rover(board, each)) is not None]
    places = _places(board)
    label = f"Map of {words.counted(len(drawn), 'rover')} and {words.counted(len(places), 'place')} with rovers to come"
    return {
        "places": [*drawn, *places],
        "ways": [way for each in rovers for way in _ways(board, each)],
        "label": f"{label}; the list beside it says the same.",
        "words": {mark: word for mark, word, _ in (*once(places_legend, board), *said.legend(rovers))},
    }


def not_on_the_map(rovers: Sequence[OnTheRoad]) -> str:
    """The rovers that the map cannot show, by name."""
    names = [each.now.rover.name or each.rover for each in rovers if _degrees(each.now.at) is None]
    return f"Not on the map, because nobody knows where they are: {words.listed(names)}." if names else ""


def _rover(board: Board, each: OnTheRoad) -> list[object] | None:
    where = _degrees(each.now.at)
    if where is None:
        return None
    name = each.now.rover.name or each.rover
    # beside its place, not over it
    return [each.rover, name, *where, said.MARKS[each.doing], True, said.does(board, each), True]


def _places(board: Board) -> list[list[object]]:
    wanted = {case.place for case in (*wanting(board), *(case for case in board.cases if case.rover))}
    return [
        [p.place, p.name, p.longitude, p.latitude, look.mark, True, says(look, board)]
        for look in once(looks, board)
        if (p := look.now.place).place in wanted and p.longitude is not None and p.latitude is not None
    ]


def _ways(board: Board, each: OnTheRoad) -> list[list[object]]:
    """From where the rover is to where it goes, and on to its next stop."""
    ways: list[list[object]] = []
    here = _degrees(each.now.at)
    if here and each.now.on_the_way is not None and (there := _degrees(each.now.on_the_way)):
        ways.append([*here, *there, "gone"])
        here = there
    if here and each.stops:
        place = board.place_by_id[each.stops[0].place].place
        there = _degrees(Spot(place.place, place.latitude, place.longitude))
        if there:
            ways.append([*here, *there, "assigned" if is_assigned(board, each.stops[0]) else "suggested"])
    return ways


def _degrees(spot: Spot) -> tuple[float, float] | None:
    """Longitude and latitude, or None where they are not known."""
    return (spot.longitude, spot.latitude) if spot.longitude is not None and spot.latitude is not None else None
