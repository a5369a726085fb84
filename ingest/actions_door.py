"""POST /cases/{case}/actions: what a person at the desk does with a case."""

import asyncio
from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import Response

from county import desk
from county.domain.intake import Hand
from county.errors import NotAllowed, Problem, Refused
from county.following import Following
from county.wiring import Office
from ingest.aside import REFUSED, set_aside
from ingest.body import WHOLE, Repeated, read_body, read_json, read_text
from ingest.receipt_answer import receipt_answer
from ingest.reports_door import DOOR
from ingest.senders import Senders
from ingest.waiting import Item
from ingest.writer import Writer


@dataclass(frozen=True, slots=True)
class ActionsDoor:
    """The door for actions; a place's key may not use it, a rover's on the cases assigned to it."""

    office: Office
    following: Following
    writer: Writer
    senders: Senders

    async def post(self, request: Request, case: str) -> Response:
        """Acknowledge, assign, clear ... a case; the same key with the same content is the same action."""
        sender = await self.senders.of(request, rovers=True)
        if sender.place is not None:
            raise NotAllowed("acting on a case is for desk keys, and for rovers' on their own cases")
        clock = self.office.clock
        hand = Hand(sender.name, sender.shown, DOOR, clock.now(), clock.word, rover_only=sender.rover)
        body = await read_body(request)
        await asyncio.to_thread(self.following.catch_up)
        item = self._read(body, case, hand)
        receipt = (await self.writer.keep([item]))[0]
        return receipt_answer(item, receipt)

    def _read(self, body: bytes, case: str, hand: Hand) -> Item:
        try:
            return desk.read_action(self.following.picture, case, _object(body), hand)
        except Refused as error:
            return set_aside(hand, REFUSED, error.problems, body, source=f"action on {case}")


def _object(body: bytes) -> dict[str, object]:
    raw = read_json(read_text(body))
    if isinstance(raw, Repeated):
        raise Refused([Problem(raw.again, "is said twice")])
    if not isinstance(raw, dict):
        raise Refused([Problem(WHOLE, "an action is one object of named fields")])
    return raw
