"""Messages to the places, as they stand now: each with how many have acknowledged it, and who has not."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from county.domain.broadcasts import Broadcast
from county.domain.picture import PlaceNow
from dashboard import words
from dashboard.board_now import Board
from dashboard.list_row import ListRow
from dashboard.markup import Markup, quiet, tag, text

SHOWN = 20
A_LINE = 60


@dataclass(frozen=True, slots=True)
class Sent:
    """One message: what it says, whom it is for in words, and to how many places of which so many acknowledged it."""

    message: str
    text: str
    to: str
    by: str
    sent_at: datetime
    places: tuple[str, ...]
    unseen: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Unseen:
    """One message that one place has not acknowledged."""

    now: PlaceNow
    told: Broadcast

    @property
    def id(self) -> str:
        """The place and the message, as one word."""
        return f"{self.now.place.place} {self.told.message}"


def sent(board: Board) -> list[Sent]:
    """Every message, newest first."""
    at: dict[str, list[tuple[str, Broadcast]]] = {}
    for now in board.places:
        for each in now.day.messages:
            at.setdefault(each.message, []).append((now.place.place, each))
    found = [_sent(each) for each in at.values()]
    return sorted(found, key=lambda each: (each.sent_at, each.message), reverse=True)


def _sent(told: list[tuple[str, Broadcast]]) -> Sent:
    first = min((each for _, each in told), key=lambda each: each.sent_at)
    unseen = tuple(place for place, each in told if each.seen_at is None)
    return Sent(first.message, first.text, first.to, first.by, first.sent_at, tuple(place for place, _ in told), unseen)


def unseen(board: Board) -> list[Unseen]:
    """What no place has acknowledged, longest waiting first."""
    found = [
        Unseen(now, each)
        for now in board.places
        for each in now.day.messages
        if each.seen_at is None and now.day.received_at is None
    ]
    return sorted(found, key=lambda each: (each.told.sent_at, each.now.place.place))


def sentence(board: Board) -> str:
    """Who has not acknowledged, in words: 7 places have not acknowledged a message, the longest for 14 min."""
    waits = unseen(board)
    if not any(now.day.messages for now in board.places):
        return "No message has been sent."
    if not waits:
        return "Every place has acknowledged every message."
    places = len({each.now.place.place for each in waits})
    longest = words.span(board.as_of - waits[0].told.sent_at)
    have = "has" if places == 1 else "have"
    return f"{words.counted(places, 'place')} {have} not acknowledged a message, the longest for {longest}."


def rows(board: Board, waits: Sequence[Unseen], chosen: str) -> list[ListRow]:
    """Who has not acknowledged, as a list to choose from; `chosen` is the id of the one that is shown beside."""
    return [_row(board, each, chosen) for each in waits[:SHOWN]]


def _row(board: Board, each: Unseen, chosen: str) -> ListRow:
    waited = board.as_of - each.told.sent_at
    return ListRow(
        id=each.id,
        mark=each.now.standing.value,
        title=each.now.place.name,
        beside=each.now.place.phone or "no telephone on the roster",
        says=begun(each.told.text),
        state=words.span(waited),
        alarm=waited >= board.plan.limits.message_unseen_after,
        chosen=each.id == chosen,
    )


def begun(said: str) -> str:
    """As much of a message as stands in a line."""
    line = " ".join(said.split())
    return line if len(line) <= A_LINE else f"{line[: A_LINE - 3].rstrip(' .')}..."


def listed(board: Board, messages: list[Sent]) -> Markup:
    """Every message with its whole text, who sent it, and how many have acknowledged it."""
    names = ("Sent", "To", "Message", "Acknowledged")
    head = tag("tr", *(tag("th", text(name), scope="col") for name in names))
    return tag("table", tag("thead", head), tag("tbody", *(_line(board, each) for each in messages)), cls="pr-entries")


def _line(board: Board, each: Sent) -> Markup:
    seen = len(each.places) - len(each.unseen)
    cells = (
        text(words.clock(each.sent_at, board.zone, seconds=True)),
        text(f"{words.counted(len(each.places), 'place')}: {each.to}"),
        tag("p", text(each.text), cls="pr-as-typed") + quiet(f"from {each.by}"),
        text(f"{seen:,} of {len(each.places):,}"),
    )
    return tag("tr", *(tag("td", cell) for cell in cells))


def to_read_out(board: Board, each: Unseen) -> Markup:
    """What to say on the telephone: whom to call, and the message word for word."""
    place = each.now.place
    call = place.phone or "no telephone on the roster"
    return tag(
        "div",
        tag("p", tag("b", text(f"{place.name}, {place.place}. ")), text(f"Call {call}.")),
        tag("p", text(each.told.text), cls="pr-instruction pr-as-typed"),
        tag("p", quiet(f"Sent {words.clock(each.told.sent_at, board.zone)} by {each.told.by}. Have it read back.")),
        cls="pr-case",
    )
