"""What the office does with reports: keep them, answer for them, read them back. One function, one transaction."""

import json
from collections.abc import Sequence

from county.domain.entries import Entry
from county.domain.entry_form import as_sent
from county.domain.receipts import Outcome, Receipt, SetAside
from county.domain.roster import Roster
from county.domain.senders import Sender
from county.errors import Problem, UnknownKey
from county.store import keys, ledger, set_aside
from county.store import roster as stored_roster
from county.store.engine import reading, writing
from county.wiring import Office

__all__ = [
    "Outcome",
    "Receipt",
    "Sender",
    "SetAside",
    "find_sender",
    "keep",
    "last_seq",
    "ledger_pages",
    "roster",
    "set_aside_list",
]


def keep(office: Office, items: Sequence[Entry | SetAside]) -> list[Receipt]:
    """Keep what is new and set the rest aside, all in one transaction; durable when this returns.

    One receipt for each item, in order. A report under a key that stands with other content is set aside too.
    """
    entries = [item for item in items if isinstance(item, Entry)]
    refused = [item for item in items if isinstance(item, SetAside)]
    with writing(office.engine) as connection:
        receipts = ledger.append(connection, entries)
        conflicts = [_conflict(e, r) for e, r in zip(entries, receipts, strict=True) if r.outcome is Outcome.CONFLICT]
        set_aside.put(connection, [*conflicts, *refused])
    kept = iter(receipts)
    return [next(kept) if isinstance(item, Entry) else _refused(item) for item in items]


def find_sender(office: Office, token: str) -> Sender:
    """Whose live reporting key this is. Raises UnknownKey where it is nobody's, or was revoked."""
    with reading(office.engine) as connection:
        holder = keys.holder_of(connection, token)
    if holder is None:
        raise UnknownKey("no such reporting key, or it was revoked")
    return Sender.named(holder)


def roster(office: Office) -> Roster:
    """The roster as it stands."""
    with reading(office.engine) as connection:
        return stored_roster.load(connection)


def ledger_pages(office: Office, after: int = 0, limit: int = 1_000) -> list[dict[str, object]]:
    """Entries after a number as /ledger gives them, in order, with `previous` and `digest`."""
    with reading(office.engine) as connection:
        return ledger.pages(connection, after, limit)


def last_seq(office: Office) -> int:
    """The number of the last entry; 0 where there is none."""
    with reading(office.engine) as connection:
        return ledger.head(connection)[0]


def set_aside_list(office: Office, limit: int | None = None) -> list[SetAside]:
    """What was set aside, newest first."""
    with reading(office.engine) as connection:
        return set_aside.latest(connection, limit)


def _conflict(entry: Entry, receipt: Receipt) -> SetAside:
    return SetAside(
        key=entry.key,
        sender=entry.sender,
        door=entry.door,
        received_at=entry.received_at,
        reason="conflict",
        problems=(Problem("key", receipt.says),),
        raw=json.dumps(as_sent(entry), ensure_ascii=False),
    )


def _refused(item: SetAside) -> Receipt:
    return Receipt(item.key, Outcome.REFUSED, 0, item.received_at, item.problems, item.says)
