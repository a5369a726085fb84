"""The county at one moment of the day, as known then beside as it happened: the sentence, the counts, the two maps."""

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from hashlib import sha256

from county.domain.place_replay import Glance
from county.domain.replay import Beside
from county.domain.standing import Standing
from dashboard import words
from dashboard.board_now import Board
from dashboard.feed import once
from dashboard.markup import Markup, mark, number, tag, text

NAMED = 8
_WORST = (
    Standing.STOPPED,
    Standing.UNHEARD,
    Standing.LATE,
    Standing.IMPAIRED,
    Standing.PREPARING,
    Standing.READY,
    Standing.OPEN,
    Standing.CLOSED,
    Standing.RECEIVED,
)
_VOTING = (Standing.OPEN, Standing.IMPAIRED)
_SIDES: Mapping[str, Callable[[Beside], Glance]] = {
    "known": lambda each: each.known,
    "happened": lambda each: each.happened,
}


@dataclass(frozen=True)
class Moment:
    """Every place at a moment (aware UTC), both ways."""

    at: datetime
    places: tuple[Beside, ...]

    @cached_property
    def apart(self) -> tuple[Beside, ...]:
        """The places of which the office believed something else than was so, other standings first, worst first."""
        found = [each for each in self.places if each.differs]
        return tuple(sorted(found, key=_worst_first))

    @cached_property
    def known(self) -> Counter[Standing]:
        return Counter(each.known.standing for each in self.places)

    @cached_property
    def happened(self) -> Counter[Standing]:
        return Counter(each.happened.standing for each in self.places)


def _worst_first(each: Beside) -> tuple[bool, int, int, str]:
    same = each.known.standing is each.happened.standing
    return same, _WORST.index(each.happened.standing), -each.happened.minutes_late, each.place


def sentence(moment: Moment, board: Board) -> str:
    """At 06:40 the office knew 38 of 48 places to be open; 43 were. The two differ at 6 places."""
    at, total = board.wall.minute(moment.at), len(moment.places)
    knew, were = (sum(side[each] for each in _VOTING) for side in (moment.known, moment.happened))
    apart = len(moment.apart)
    places = f"{total:,} places" if total != 1 else "1 place"
    if not knew and not were:
        first = f"At {at} none of {places} was open."
    elif knew == were:
        first = f"At {at}, {were:,} of {places} {'was' if were == 1 else 'were'} open, and the office knew of as many."
    else:
        first = f"At {at} the office knew {knew:,} of {places} to be open; {were:,} {'was' if were == 1 else 'were'}."
    if not apart:
        return f"{first} What it knew of each was so."
    return f"{first} The two differ at {words.counted(apart, 'place')}."


def counts(moment: Moment) -> Markup:
    """How many places stood how: as known, as it happened, and the difference, worst first."""
    head = tag("tr", *(tag("th", text(name), scope="col") for name in ("", "As known", "As it happened", "Apart")))
    rows = [_count(each, moment) for each in _WORST if moment.known[each] or moment.happened[each]]
    return tag("table", tag("thead", head), tag("tbody", *rows), cls="pr-table pr-counts")


def _count(standing: Standing, moment: Moment) -> Markup:
    known, happened = moment.known[standing], moment.happened[standing]
    apart = f"{happened - known:+,}" if happened != known else ""
    name = tag("th", mark(standing.value), text(words.begun(words.STANDING[standing])), scope="row")
    return tag("tr", name, *(tag("td", number(said)) for said in (f"{known:,}", f"{happened:,}", apart)))


@dataclass(frozen=True, slots=True)
class Roll:
    """The places whose coordinates are known: id, name, longitude, latitude; `name` is made of them."""

    name: str
    places: tuple[tuple[str, str, float, float], ...]
    numbers: Mapping[str, int]

    def data(self) -> dict[str, object]:
        """As the page is sent it, once."""
        return {"name": self.name, "places": self.places}


def roll(board: Board) -> Roll:
    """The roll of the places on the map."""
    places = tuple(
        (place.place, place.name, place.longitude, place.latitude)
        for place in (now.place for now in board.places)
        if place.latitude is not None and place.longitude is not None
    )
    name = sha256(repr(places).encode()).hexdigest()
    return Roll(name, places, {place[0]: number for number, place in enumerate(places)})


def map_of(moment: Moment, board: Board, side: str) -> dict[str, object]:
    """One of the two maps, `known` or `happened`, over the places of the roll, each by its number, worst first.

    The worst of the places that stood otherwise than known are named.
    """
    glance, on_it = _SIDES[side], once(roll, board)
    named = [each.place for each in moment.apart[:NAMED] if each.known.standing is not each.happened.standing]
    stood: dict[Standing, list[int]] = {standing: [] for standing in _WORST}
    for each in moment.places:
        if each.place in on_it.numbers:
            stood[glance(each).standing].append(on_it.numbers[each.place])
    says = {"known": "as the office knew it", "happened": "as it happened"}[side]
    label = f"Map of {words.counted(len(on_it.places), 'place')} {says}; the counts beside it say the same."
    return {
        "roll": on_it.name,
        "stood": [[standing.value, those] for standing, those in stood.items() if those],
        "named": [on_it.numbers[place] for place in named if place in on_it.numbers],
        "label": label,
        "words": {each.value: words.STANDING[each] for each in Standing},
    }
