"""The office sends a message to places: one entry a place, in one transaction, each once however often it is sent."""

from collections.abc import Collection

from county.allowed import must_be_allowed
from county.domain.broadcasts import messages_to
from county.domain.intake import Hand
from county.domain.receipts import Outcome, Receipt
from county.domain.roster import Roster
from county.errors import Problem, Refused
from county.store import ledger
from county.store.engine import writing
from county.wiring import Office


def send(
    office: Office, roster: Roster, message: str, text: str, to: str, places: Collection[str], hand: Hand
) -> list[Receipt]:
    """Keep a message to these places, durable when this returns; one receipt a place.

    `message` is its id: sent again with the same text it is the same message. Refused with every problem, or where
    another text stands under the id; NotAllowed where the sender may not. Then nothing is written down.
    """
    entries = messages_to(places, message, text, to, hand, roster)
    with writing(office.engine) as connection:
        must_be_allowed(connection, entries)
        receipts = ledger.append(connection, entries)
        if any(receipt.outcome is Outcome.CONFLICT for receipt in receipts):
            raise Refused([Problem("message", "another message was sent under this id; nothing was sent")])
    return receipts
