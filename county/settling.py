"""The office settles what was set aside: takes it in as put right, or dismisses it; once, and in one transaction."""

from collections.abc import Iterable

from county.allowed import must_be_allowed
from county.domain.entries import Entry
from county.domain.intake import Hand
from county.domain.receipts import Outcome, Receipt, SetAside
from county.domain.settling import outcome_of, settled_key
from county.errors import Problem, Refused
from county.store import ledger, set_aside
from county.store.engine import reading, writing
from county.wiring import Office


def outcomes(office: Office, items: Iterable[SetAside]) -> dict[int, Entry]:
    """How those of these items that are settled were settled, by the item's number."""
    keys = {settled_key(item.number): item.number for item in items}
    with reading(office.engine) as connection:
        found = ledger.by_key(connection, "", list(keys))
    return {keys[entry.key]: entry for entry in found}


def waiting(office: Office, limit: int | None = None) -> list[SetAside]:
    """What was set aside and nobody has settled, newest first; at most `limit`."""
    with reading(office.engine) as connection:
        return set_aside.latest(connection, limit, settled_key(""))


def take_in(office: Office, item: SetAside, entry: Entry, hand: Hand) -> Receipt:
    """Keep a report put right and the fact that it settles this item, both or neither; the report's receipt.

    Refused where the item is settled already, or another report stands under the key.
    """
    facts = [entry, outcome_of(item, hand, took=entry.key)]
    with writing(office.engine) as connection:
        must_be_allowed(connection, facts)
        receipt, settled = ledger.append(connection, facts)
        if receipt.outcome is Outcome.CONFLICT:
            raise Refused([Problem("key", receipt.says)])
        _only_once(settled)
    return receipt


def dismiss(office: Office, item: SetAside, reason: str, hand: Hand) -> Receipt:
    """Write down that an item is dismissed, and why. Refused without a reason, or where it is settled already."""
    if not reason.strip():
        raise Refused([Problem("reason", "is needed: say why it is not taken in")])
    outcome = outcome_of(item, hand, reason=reason.strip()[:2_000])
    with writing(office.engine) as connection:
        must_be_allowed(connection, [outcome])
        (receipt,) = ledger.append(connection, [outcome])
        _only_once(receipt)
    return receipt


def _only_once(settled: Receipt) -> None:
    if settled.outcome is not Outcome.KEPT:
        raise Refused([Problem("", "somebody has settled this one already; nothing was written down")])
