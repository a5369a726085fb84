"""What became of a report that was set aside: put right and taken in, or dismissed; a fact of the ledger's own."""

import json
from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType

from county.domain.entries import Entry, Kind
from county.domain.intake import KEY, Hand
from county.domain.moments import write_moment
from county.domain.receipts import SetAside


class Settled(StrEnum):
    """How an item was settled."""

    TAKEN = "taken"
    DISMISSED = "dismissed"


def settled_key(number: int | str) -> str:
    """The key of an item's outcome: one an item, whoever settles it. No sender's key can hold a stroke."""
    return f"set-aside/{number}"


def outcome_of(item: SetAside, hand: Hand, *, reason: str = "", took: str = "") -> Entry:
    """The fact that an item was taken in under the key `took`, or else dismissed with a reason."""
    outcome = Settled.TAKEN if took else Settled.DISMISSED
    said: Mapping[str, object] = {"reason": reason, "took": took}
    told = {"item": item.number, "outcome": outcome.value} | {name: value for name, value in said.items() if value}
    return Entry(
        key=settled_key(item.number),
        kind=Kind.SET_ASIDE_OUTCOME,
        place="",
        happened_at=hand.received_at,
        received_at=hand.received_at,
        by=hand.by,
        door=hand.door,
        sender=hand.sender,
        fields=MappingProxyType(told),
        clock=hand.clock,
    )


def fields_of(item: SetAside) -> dict[str, str]:
    """An item's fields as text, to be put right; what is no object of fields becomes a note with what was sent.

    Where it was refused under a key of its own it keeps it, so that its sender's next try is a repeat; a conflict gets
    a new key. Where no time was told, it is when the office received it.
    """
    said = _read(item.raw)
    fields = {name: _as_text(value) for name, value in said.items()}
    if not fields:
        kind, _, name = item.sender.partition(":")
        fields = {"place": name if kind == "place" else "", "kind": Kind.NOTE.value, "note": item.raw.strip()[:2_000]}
    own = item.reason != "conflict" and KEY.fullmatch(fields.get("key", ""))
    fields["key"] = fields["key"] if own else f"aside-{item.number}"
    fields.setdefault("happened_at", write_moment(item.received_at))
    return fields


def _read(raw: str) -> Mapping[str, object]:
    try:
        said = json.loads(raw)
    except ValueError:
        return {}
    return said if isinstance(said, dict) else {}


def _as_text(value: object) -> str:
    if isinstance(value, str):
        return value
    if isinstance(value, list) and all(isinstance(each, str) for each in value):
        return ", ".join(value)
    return "" if value is None else json.dumps(value, ensure_ascii=False)
