"""What the map of places is given: each place's name, where it lies, its shape, and which names are written out."""

from dashboard import words
from dashboard.board_now import Board
from dashboard.feed import once
from dashboard.looks import looks, says

NAMED, SAID = 14, 300
_SAID = {"held-up": "held up", "expected-late": "expected late", "not-due": "not due yet"}


def map_of_places(board: Board) -> dict[str, object]:
    """Places with coordinates, worst first: id, name, longitude, latitude, shape, whether named, what it says.

    What is the matter is said of those that need a look, the first few hundred; of the others the shape's word.
    """
    every = once(looks, board)
    named = {look.now.place.place for look in every[:NAMED] if look.group.needs_a_look}
    said = {look.now.place.place: says(look, board) for look in every[:SAID] if look.group.needs_a_look}
    places = [
        [p.place, p.name, p.longitude, p.latitude, look.mark, p.place in named, said.get(p.place, "")]
        for look in every
        if (p := look.now.place).latitude is not None and p.longitude is not None
    ]
    label = f"Map of {words.counted(len(places), 'place')}; the table below says the same."
    return {"places": places, "label": label, "words": {mark: word for mark, word, _ in once(legend, board)}}


def not_on_the_map(board: Board) -> str:
    """The places that the map cannot show, by name."""
    names = [
        look.now.place.name
        for look in once(looks, board)
        if look.now.place.latitude is None or look.now.place.longitude is None
    ]
    listed = words.listed([*names[:NAMED], words.counted(len(names) - NAMED, "other") if len(names) > NAMED else ""])
    return f"Not on the map, because the roster has no coordinates for them: {listed}." if names else ""


def legend(board: Board) -> list[tuple[str, str, int]]:
    """Shape, word and number of places for every standing that occurs, worst first."""
    counted: dict[str, int] = {}
    said: dict[str, str] = {}
    for look in once(looks, board):
        counted[look.mark] = counted.get(look.mark, 0) + 1
        said[look.mark] = _SAID.get(look.mark) or words.STANDING[look.now.standing]
    return [(mark, said[mark], number) for mark, number in counted.items()]
