"""What stands on a card: whose it is, the way into its sheet or page, the text line's words, the telephone."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import time
from types import MappingProxyType
from urllib.parse import quote

from county.domain.expected import expected_at
from county.domain.plan import Plan
from county.domain.roster import Place, Roster, Rover
from county.domain.text_line import example

_MEANINGS: Mapping[str, str] = MappingProxyType(
    {
        "text_open": "polls open, at 06:01",
        "text_zero": "the zero report's public counter",
        "text_count": "ballots counted, people in line",
        "text_help": "trouble, in a few words",
        "text_seen": "a message from the office, acknowledged",
        "text_closed": "polls closed, at 19:00",
    }
)
"""The lines that a card shows, in order, and what each tells."""


@dataclass(frozen=True, slots=True)
class Card:
    """One card in words. `way_in` is what the square code says, `address` the same without the key.

    `about` stands beside the id, `opens` is what the code brings, `holder` what whoever holds the card can do. `lines`
    are text lines that may be sent, each with what it tells; a rover has none.
    """

    id: str
    name: str
    about: str
    opens: str
    holder: str
    key: str
    address: str
    way_in: str
    lines: tuple[tuple[str, str], ...] = ()


def card_for(place: Place, key: str, base: str, roster: Roster, plan: Plan) -> Card:
    """The card of one place. `base` is the endpoint's address as phones reach it, without a slash at its end."""
    opens, closes = place.opens or plan.election.opens, place.closes or plan.election.closes
    scanners = expected_at(place, roster, plan).scanners
    address = f"{base}/at/{quote(place.place, safe='')}"
    this = f"this {plan.word('place')}"
    return Card(
        id=place.place,
        name=place.name,
        about=_dotted(
            ", ".join(part for part in (place.address, place.city) if part), f"polls open {_hours(opens, closes)}"
        ),
        opens=f"the {plan.word('sheet')} of {this} opens",
        holder=f"report for {this}",
        key=key,
        lines=tuple((example(word, plan, place.place, scanners), says) for word, says in _MEANINGS.items()),
        address=address,
        way_in=_with_key(address, key),
    )


def rover_card(rover: Rover, key: str, base: str, plan: Plan) -> Card:
    """The card of one rover: the way to its assignments."""
    this = f"this {plan.word('rover')}"
    shift = f"shift {_hours(rover.starts, rover.ends)}" if rover.starts and rover.ends else ""
    address = f"{base}/rover/{quote(rover.rover, safe='')}"
    carries = f"carries {', '.join(rover.carries)}" if rover.carries else ""
    return Card(
        id=rover.rover,
        name=rover.name or rover.rover,
        about=_dotted(rover.zone and f"zone {rover.zone}", shift, carries),
        opens=f"the assignments of {this} open",
        holder=f"act as {this}",
        key=key,
        address=address,
        way_in=_with_key(address, key),
    )


def _with_key(address: str, key: str) -> str:
    return f"{address}?k={quote(key, safe='')}"


def _hours(begins: time, ends: time) -> str:
    return f"{begins:%H:%M} to {ends:%H:%M}"


def _dotted(*parts: str) -> str:
    return " · ".join(part for part in parts if part)
