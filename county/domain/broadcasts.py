"""A message from the office to places: what it says, and who at each place has acknowledged it."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import datetime
from types import MappingProxyType

from county.domain.entries import Entry, Kind, Shape, Stamp
from county.domain.field_shapes import READ
from county.domain.intake import Hand, read_key
from county.domain.roster import Roster
from county.errors import Problem, Refused


@dataclass(frozen=True, slots=True)
class Broadcast:
    """One message at one place. `message` is its id, the same at every place; times are aware UTC.

    `seen_at` is None until it was acknowledged; `seen_role` is who acknowledged it, by role, `seen_by` who wrote it
    down, `seen_door` the door it came through and `seen_key` its report's key.
    """

    message: str
    text: str
    to: str
    sent_at: datetime
    by: str
    seen_at: datetime | None = None
    seen_role: str = ""
    seen_by: str = ""
    seen_door: str = ""
    seen_key: str = ""


def broadcasts(sent: Iterable[Entry], seen: Iterable[Entry]) -> tuple[Broadcast, ...]:
    """One place's messages, oldest first, each with its first acknowledgement, whatever the order they arrived in.

    An acknowledgement by a clock that is behind holds from when the message was sent.
    """
    first: dict[str, Entry] = {}
    for entry in sorted(seen, key=lambda each: (each.happened_at, each.key)):
        first.setdefault(entry.text("message"), entry)
    found: dict[str, Broadcast] = {}
    for entry in sorted(sent, key=lambda each: (each.happened_at, each.key)):
        found.setdefault(entry.text("message"), _broadcast(entry, first.get(entry.text("message"))))
    return tuple(found.values())


def _broadcast(sent: Entry, seen: Entry | None) -> Broadcast:
    message, text, to = (sent.text(name) for name in ("message", "text", "to"))
    if seen is None:
        return Broadcast(message, text, to, sent.happened_at, sent.by)
    return Broadcast(
        *(message, text, to, sent.happened_at, sent.by),
        seen_at=max(seen.happened_at, sent.happened_at),
        seen_role=seen.text("role"),
        seen_by=seen.by,
        seen_door=seen.door,
        seen_key=seen.key,
    )


def messages_to(
    places: Collection[str], message: object, text: object, to: str, hand: Hand, roster: Roster
) -> list[Entry]:
    """The entries of one message, one a place; `to` says in words whom it is for. Refused with every problem."""
    problems: list[Problem] = []
    name = read_key(message, problems)
    said = _text(text, problems)
    unknown = sorted(place for place in places if place not in roster.place_by_id)
    if unknown:
        problems.append(Problem("places", f"no place {', '.join(unknown[:5])[:200]}"))
    if not places:
        problems.append(Problem("places", "is needed: choose whom it is for"))
    if problems:
        raise Refused(problems)
    return [_entry(place, name, said, to, hand) for place in dict.fromkeys(places)]


def _text(value: object, problems: list[Problem]) -> str:
    try:
        text = str(READ[Shape.TEXT](value))
    except ValueError as error:
        problems.append(Problem("text", str(error)))
        return ""
    if not text:
        problems.append(Problem("text", "is needed: say what the places are to know"))
    return text


def _entry(place: str, message: str, text: str, to: str, hand: Hand) -> Entry:
    return Entry(
        # one message is one fact a place, however often it is sent; no sender's key can hold a stroke
        key=f"message/{message}/{place}",
        kind=Kind.MESSAGE,
        place=place,
        happened_at=hand.received_at,
        received_at=hand.received_at,
        by=hand.by,
        door=hand.door,
        sender=hand.sender,
        fields=MappingProxyType({"message": message, "text": text, "to": to}),
        # sent again a moment later it is the same message
        stamp=Stamp.RECEIVED,
        clock=hand.clock,
    )
