"""An entry as it is written down: as the ledger gives it, as its sender sent it, and read back again."""

import sys
from collections.abc import Mapping
from datetime import datetime
from types import MappingProxyType
from typing import Any, cast

import rfc8785

from county.domain.entries import Entry, Kind, Stamp
from county.domain.moments import write_moment

HEAD = frozenset(
    {
        "seq",
        "key",
        "kind",
        "place",
        "happened_at",
        "received_at",
        "by",
        "door",
        "sender",
        "stamp",
        "told_at",
        "clock",
        "previous",
        "digest",
    }
)


def written(entry: Entry, seq: int, previous: str) -> dict[str, object]:
    """The entry as /ledger gives it, without its digest. ValueError where a field would hide one of the entry's own."""
    if not HEAD.isdisjoint(entry.fields):
        raise ValueError(f"fields of entry {entry.key} hide {', '.join(sorted(HEAD & entry.fields.keys()))}")
    form: dict[str, object] = {
        "seq": seq,
        "key": entry.key,
        "kind": entry.kind.value,
        "place": entry.place,
        "happened_at": write_moment(entry.happened_at),
        "received_at": write_moment(entry.received_at),
        "by": entry.by,
        "door": entry.door,
        "sender": entry.sender,
        "stamp": entry.stamp.value,
        "clock": entry.clock,
        "previous": previous,
    }
    if entry.told_at:
        form["told_at"] = entry.told_at
    form.update(entry.fields)
    return form


def canonical(form: dict[str, Any]) -> str:
    """The one way to write a form as text: RFC 8785."""
    return rfc8785.dumps(form).decode()


def as_sent(entry: Entry) -> dict[str, object]:
    """The entry as its sender could send it again: with the time as told, without what the office added."""
    told = entry.told_at or (write_moment(entry.happened_at) if entry.stamp is Stamp.TOLD else "")
    head: dict[str, object] = {"key": entry.key, "kind": entry.kind.value, "place": entry.place}
    return head | ({"happened_at": told} if told else {}) | dict(entry.fields)


def read_back(form: Mapping[str, object]) -> Entry:
    """The entry that was written so. Raises KeyError, TypeError or ValueError where it was not written by `written`."""
    said = cast("Mapping[str, str]", form)
    fields = {name: tuple(v) if isinstance(v, list) else v for name, v in form.items() if name not in HEAD}
    return Entry(
        key=said["key"],
        kind=Kind(said["kind"]),
        # the same few words stand in every entry of a day
        place=sys.intern(said["place"]),
        happened_at=datetime.fromisoformat(said["happened_at"]),
        received_at=datetime.fromisoformat(said["received_at"]),
        by=sys.intern(said["by"]),
        door=sys.intern(said["door"]),
        sender=sys.intern(said["sender"]),
        fields=MappingProxyType(fields),
        stamp=Stamp(said["stamp"]),
        told_at=said.get("told_at", ""),
        clock=sys.intern(said["clock"]),
        seq=cast("int", form["seq"]),
    )
