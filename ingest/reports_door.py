"""POST /reports: one report or a batch is read, kept, and answered with a receipt once it is durable."""

import asyncio
from collections.abc import Callable
from dataclasses import dataclass, replace

from starlette.requests import Request
from starlette.responses import Response

from county.desk import Sender
from county.domain.entries import Entry
from county.domain.intake import Hand, take
from county.errors import NotAllowed, Problem, Refused
from county.following import Following
from county.wiring import Office
from ingest.answers import answer
from ingest.aside import NOT_ALLOWED, REFUSED, TOO_LARGE, set_aside
from ingest.body import BEGINS, WHOLE, Repeated, TooLarge, read_body, read_json, read_text, report_texts
from ingest.pace import Pace
from ingest.receipt_answer import receipt_answer
from ingest.senders import Senders
from ingest.shapes import receipt_shape
from ingest.waiting import Item
from ingest.writer import Writer

DOOR = "endpoint"
MOST_IN_A_BATCH = 500
READ_ASIDE_FROM = 32_768

Read = Callable[[object, Hand], Entry]


@dataclass(frozen=True, slots=True)
class Sent:
    """What one request held: each report as an entry, or as what is set aside of it."""

    items: list[Item]
    batch: bool


@dataclass(frozen=True, slots=True)
class ReportsDoor:
    """The door for reports: what it needs to know the sender, read the reports and keep them."""

    office: Office
    following: Following
    writer: Writer
    senders: Senders
    pace: Pace

    async def post(self, request: Request) -> Response:
        """Keep a report, or up to 500 as `{"reports": [...]}`. One key with the same content is one report."""
        sender = await self.senders.of(request)
        if sender.place is not None:
            self.pace.take(sender.name)
        hand = self._hand(sender)
        try:
            sent = await self._read(await read_body(request), hand)
        except TooLarge as error:
            aside = set_aside(hand, TOO_LARGE, [Problem(WHOLE, str(error))], error.begins)
            await self.writer.keep([aside])
            raise
        receipts = await self.writer.keep(sent.items)
        if sent.batch:
            return answer(200, {"receipts": [receipt_shape(receipt) for receipt in receipts]})
        return receipt_answer(sent.items[0], receipts[0])

    def _hand(self, sender: Sender) -> Hand:
        clock = self.office.clock
        return Hand(sender.name, sender.shown, DOOR, clock.now(), clock.word, sender.place)

    async def _read(self, body: bytes, hand: Hand) -> Sent:
        """Read at once what is good and short; all else aside, so that nobody else waits for it.

        Before anything is refused, the ledger is asked whether the roster has just been replaced.
        """
        if len(body) < READ_ASIDE_FROM:
            sent = self._sort(body, hand, self._take)
            if all(isinstance(item, Entry) for item in sent.items):
                return sent
        return await asyncio.to_thread(self._sort, body, hand, self.following.read_report)

    def _take(self, raw: object, hand: Hand) -> Entry:
        picture = self.following.picture
        return take(raw, hand, picture.roster, picture.plan)

    def _sort(self, body: bytes, hand: Hand, read: Read) -> Sent:
        try:
            text = read_text(body)
            value = read_json(text)
            if not isinstance(value, dict) or "reports" not in value:
                return Sent([_item(value, hand, text, read)], batch=False)
            reports = _batch(value)
        except Refused as error:
            return Sent([set_aside(hand, REFUSED, error.problems, body)], batch=False)
        if len(reports) > MOST_IN_A_BATCH:
            raise TooLarge(f"{len(reports)} reports at once; {MOST_IN_A_BATCH} are taken", body[:BEGINS], unread=False)
        return Sent(_items(reports, hand, text, read), batch=True)


def _items(reports: list[object], hand: Hand, text: str, read: Read) -> list[Item]:
    """Each report; of one that is refused the text as it was sent, which costs a second look at the whole."""
    items = [_item(raw, hand, "", read) for raw in reports]
    if all(isinstance(item, Entry) for item in items):
        return items
    texts = report_texts(text)
    return [
        item if isinstance(item, Entry) else replace(item, raw=sent) for item, sent in zip(items, texts, strict=True)
    ]


def _item(raw: object, hand: Hand, text: str, read: Read) -> Item:
    key = raw.get("key") if isinstance(raw, dict) else ""
    try:
        if isinstance(raw, Repeated):
            raise Refused([Problem(raw.again, "is said twice")])
        return read(raw, hand)
    except Refused as error:
        return set_aside(hand, REFUSED, error.problems, text, key=key)
    except NotAllowed as error:
        return set_aside(hand, NOT_ALLOWED, [Problem("place", str(error))], text, key=key)


def _batch(value: dict[str, object]) -> list[object]:
    reports = value["reports"]
    if isinstance(value, Repeated):
        raise Refused([Problem(value.again, "is said twice")])
    if not isinstance(reports, list):
        raise Refused([Problem("reports", "must be a list of reports")])
    if len(value) > 1:
        raise Refused([Problem(name, "no such field beside reports") for name in value if name != "reports"])
    return reports
