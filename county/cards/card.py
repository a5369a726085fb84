"""What stands on a place's card: its name, the way into its sheet, the text line's words, the telephone."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from urllib.parse import quote

from county.domain.expected import expected_at
from county.domain.plan import Plan
from county.domain.roster import Place, Roster
from county.domain.text_line import example

_MEANINGS: Mapping[str, str] = MappingProxyType(
    {
        "text_open": "polls open, at 06:01",
        "text_zero": "the zero report's public counter",
        "text_count": "ballots counted, people in line",
        "text_help": "trouble, in a few words",
        "text_closed": "polls closed, at 19:00",
    }
)
"""The lines that a card shows, in order, and what each tells."""


@dataclass(frozen=True, slots=True)
class Card:
    """One card in words. `way_in` is what the square code says, `address` the same without the key."""

    place: str
    name: str
    where: str
    hours: str
    key: str
    address: str
    way_in: str
    lines: tuple[tuple[str, str], ...]


def card_for(place: Place, key: str, base: str, roster: Roster, plan: Plan) -> Card:
    """The card of one place. `base` is the endpoint's address as phones reach it, without a slash at its end."""
    address = f"{base}/at/{quote(place.place, safe='')}"
    opens, closes = place.opens or plan.election.opens, place.closes or plan.election.closes
    scanners = expected_at(place, roster, plan).scanners
    return Card(
        place=place.place,
        name=place.name,
        where=", ".join(part for part in (place.address, place.city) if part),
        hours=f"{opens:%H:%M} to {closes:%H:%M}",
        key=key,
        address=address,
        way_in=f"{address}?k={quote(key, safe='')}",
        lines=tuple((example(word, plan, place.place, scanners), says) for word, says in _MEANINGS.items()),
    )
