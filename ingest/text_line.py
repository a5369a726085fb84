"""POST /text: a short message from a place's telephone, passed on by a gateway and answered with one short line."""

import asyncio
import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from urllib.parse import parse_qsl

from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response

from county.domain.intake import Hand, take
from county.domain.receipts import Outcome
from county.domain.roster import Place
from county.domain.text_line import (
    Speaker,
    Unclear,
    Understood,
    may_acknowledge,
    plain,
    speaker_of,
    spoken_of,
    understand,
)
from county.domain.text_line import words_of as words_in
from county.errors import NotAllowed, Problem, Refused
from county.following import Following
from county.wiring import Office
from ingest.aside import REFUSED, set_aside
from ingest.body import read_body
from ingest.pace import Pace
from ingest.senders import Senders
from ingest.text_answers import kept_answer, stranger_answer, unclear_answer
from ingest.waiting import Item
from ingest.writer import Writer

DOOR = "text"
UNKNOWN_NUMBER, UNCLEAR = "unknown-number", "unclear"
LONGEST_LINE = 480
SAME_WITHIN = 600
"""Seconds within which the same words from the same number are taken as one message delivered twice."""


@dataclass(frozen=True, slots=True)
class Message:
    """One message as the gateway passed it on; `number` is who sent it, `name` the gateway's own id of it, or empty."""

    number: str
    body: str
    name: str

    def key(self, hand: Hand) -> str:
        """The same for a message delivered twice: by the gateway's id, or by its words and about when it came."""
        about = self.name or f"{hand.received_at.timestamp() // SAME_WITHIN:.0f}"
        told = "\0".join((self.number, self.body, about)).encode("utf-8", "surrogatepass")
        return f"text-{hashlib.sha256(told).hexdigest()[:32]}"


@dataclass(frozen=True, slots=True)
class TextDoor:
    """The door for text lines. The gateway shows a desk's key; whose words they are is known by the number."""

    office: Office
    following: Following
    writer: Writer
    senders: Senders
    pace: Pace = field(default_factory=lambda: Pace(a_minute=30))

    async def post(self, request: Request) -> Response:
        """A text message passed on by a gateway: read, kept, and answered with one short line for the gateway to send.

        The key is a desk's; a gateway that cannot set a header may show it as `?key=`.
        """
        key = request.query_params.get("key")
        sender = await (self.senders.with_key(request, key) if key else self.senders.of(request))
        if sender.place is not None:
            raise NotAllowed("text lines are passed on with a desk key")
        message = _message(await read_body(request))
        self.pace.take(message.number[:40])
        await asyncio.to_thread(self.following.catch_up)
        clock, roster = self.office.clock, self.following.picture.roster
        speaker = speaker_of(message.number, roster)
        shown = speaker.shown if speaker else "unknown number"
        hand = Hand(sender.name, shown, DOOR, clock.now(), clock.word)
        if speaker is None:
            return await self._aside(
                hand, message, UNKNOWN_NUMBER, "not on the county's list", stranger_answer(self.following.picture.plan)
            )
        try:
            place, understood = self._read(message, speaker, hand)
            items = self._items(message, place, understood, hand)
        except Unclear as error:
            answer = unclear_answer(error, speaker, self.following.picture.plan)
            return await self._aside(hand, message, UNCLEAR, str(error), answer)
        except Refused as error:
            answer = unclear_answer(Unclear(str(error)), speaker, self.following.picture.plan)
            return await self._aside(hand, message, REFUSED, str(error), answer)
        receipts = await self.writer.keep(items)
        kept = all(receipt.outcome in (Outcome.KEPT, Outcome.ALREADY_HELD) for receipt in receipts)
        return _line(
            kept_answer(place, understood, self.following.picture.plan)
            if kept
            else f"{place.place}: told before, in other words."
        )

    def _read(self, message: Message, speaker: Speaker, hand: Hand) -> tuple[Place, Understood]:
        line = plain(message.body)
        if len(line) > LONGEST_LINE:
            raise Unclear("the message is too long")
        picture = self.following.picture
        place, words = spoken_of(words_in(line), speaker, picture.roster)
        state, key = picture.places[place.place], message.key(hand)
        messages = may_acknowledge(state.day.messages, key)
        return place, understand(
            words, behind(line, words), state.expected, self.following.picture.plan, hand.received_at, messages
        )

    def _items(self, message: Message, place: Place, understood: Understood, hand: Hand) -> list[Item]:
        key = message.key(hand)
        return [
            take(
                {"key": f"{key}.{n}" if n else key, "place": place.place, **raw},
                hand,
                self.following.picture.roster,
                self.following.picture.plan,
            )
            for n, raw in enumerate(understood.raws)
        ]

    async def _aside(self, hand: Hand, message: Message, reason: str, says: str, answer: str) -> Response:
        raw = f"from {message.number}: {message.body}"
        await self.writer.keep([set_aside(hand, reason, [Problem("body", says)], raw, key=message.key(hand))])
        return _line(answer)


def _message(body: bytes) -> Message:
    try:
        pairs = parse_qsl(body.decode("utf-8", "replace"), keep_blank_values=True, max_num_fields=40)
    except ValueError:
        raise Refused([Problem("body", "has too many fields")]) from None
    said: Mapping[str, str] = {name.casefold(): value for name, value in pairs}
    missing = [Problem(name, "is needed") for name in ("from", "body") if name not in said]
    if missing:
        raise Refused(missing)
    return Message(said["from"].strip(), said["body"], said.get("id", ""))


def behind(line: str, words: list[str]) -> str:
    """The end of the line that these words stand in, as it was typed."""
    starts = (at for at in range(len(line)) if words and line.startswith(words[0], at))
    return next((line[at:] for at in starts if words_in(line[at:]) == words), "")


def _line(text: str) -> Response:
    return PlainTextResponse(" ".join(text.split()), headers={"cache-control": "no-store"})
