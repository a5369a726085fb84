"""The ledger: append and read. There is no update and no delete."""

import hashlib
import json
from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import NamedTuple

from sqlalchemy import Connection, insert, select

from county.domain.entries import Entry, Kind
from county.domain.entry_form import canonical, read_back, written
from county.domain.intake import content
from county.domain.receipts import Outcome, Receipt
from county.store import archive_marks
from county.store.locks import HEAD, hold
from county.store.schema import ledger

FIRST_PREVIOUS = "0" * 64
_KEYS_AT_ONCE = 500
_ROWS_AT_ONCE = 1_000


class _Held(NamedTuple):
    seq: int
    content: str
    received_at: datetime


def append(connection: Connection, batch: Sequence[Entry]) -> list[Receipt]:
    """Keep what is new by (key, place) and (key, sender) and chain it to what stands; a repeat is a no-op.

    One receipt for each entry, in order; a repeat or a conflict names the entry that stands, which may come earlier in
    the same batch. Conflicting entries are not kept here. The transaction must be a writing one; nothing is durable
    before it commits. Digest: SHA-256 of the previous digest's hex and the entry's RFC 8785 form.
    """
    contents = [content(entry) for entry in batch]
    hold(connection, HEAD)
    if archive_marks.mark(connection):
        return _read_only(connection, batch)
    held = _held(connection, sorted({entry.key for entry in batch}))
    seq, previous = head(connection)
    rows: list[dict[str, object]] = []
    receipts: list[Receipt] = []
    for entry, said in zip(batch, contents, strict=True):
        marks = ("place", entry.key, entry.place), ("sender", entry.key, entry.sender)
        standing = [held[mark] for mark in marks if mark in held]
        if standing:
            receipts.append(_repeated(entry, said, standing))
            continue
        seq += 1
        text = canonical(written(entry, seq, previous))
        digest = digest_of(previous, text)
        rows.append(_row(entry, said, seq, text, previous, digest))
        held[marks[0]] = held[marks[1]] = _Held(seq, said, entry.received_at)
        receipts.append(Receipt(entry.key, Outcome.KEPT, seq, entry.received_at))
        previous = digest
    if rows:
        connection.execute(insert(ledger), rows)
    return receipts


def _read_only(connection: Connection, batch: Sequence[Entry]) -> list[Receipt]:
    """Who reads an archive is no part of its record; whatever else is to be added is refused. Raises Archived."""
    if any(entry.kind is not Kind.PERSON for entry in batch):
        archive_marks.refuse_archive(connection)
    return [Receipt(each.key, Outcome.ALREADY_HELD, 0, each.received_at, says="not kept: an archive") for each in batch]


def bring_back(connection: Connection, forms: Iterable[dict[str, object]]) -> None:
    """Entries as /ledger gave them, into an empty ledger, with the digests they had: walk the chain afterwards."""
    rows: list[dict[str, object]] = []
    for form in forms:
        digest, entry = str(form["digest"]), read_back(form)
        text = canonical({name: value for name, value in form.items() if name != "digest"})
        rows.append(_row(entry, content(entry), entry.seq, text, str(form["previous"]), digest))
        if len(rows) == _ROWS_AT_ONCE:
            connection.execute(insert(ledger), rows)
            rows = []
    if rows:
        connection.execute(insert(ledger), rows)


def read(connection: Connection, after: int = 0, limit: int | None = None) -> list[Entry]:
    """The entries after a number, in order; at most `limit`."""
    query = select(ledger.c.entry).where(ledger.c.seq > after).order_by(ledger.c.seq).limit(limit)
    return [read_back(json.loads(text)) for text in connection.execute(query).scalars()]


def pages(connection: Connection, after: int = 0, limit: int | None = None) -> list[dict[str, object]]:
    """The entries after a number as /ledger gives them, with `previous` and `digest`; at most `limit`."""
    query = select(ledger.c.entry, ledger.c.digest).where(ledger.c.seq > after).order_by(ledger.c.seq).limit(limit)
    return [json.loads(text) | {"digest": digest} for text, digest in connection.execute(query)]


def head(connection: Connection) -> tuple[int, str]:
    """The last entry's number and digest; 0 and 64 zeros where there is none."""
    row = connection.execute(select(ledger.c.seq, ledger.c.digest).order_by(ledger.c.seq.desc()).limit(1)).first()
    return (row.seq, row.digest) if row else (0, FIRST_PREVIOUS)


def digests(connection: Connection, last: int) -> tuple[str, ...]:
    """The digests of the entries up to this number, in order."""
    query = select(ledger.c.digest).where(ledger.c.seq <= last).order_by(ledger.c.seq)
    return tuple(connection.execute(query).scalars())


def has_kind(connection: Connection, kind: Kind, after: int) -> bool:
    """Whether an entry of this kind stands after a number."""
    query = select(ledger.c.seq).where(ledger.c.seq > after, ledger.c.kind == kind.value).limit(1)
    return connection.execute(query).first() is not None


def last_of_kind(connection: Connection, kind: Kind, by: datetime) -> Entry | None:
    """The last entry of this kind that was received by a moment, or None."""
    c = ledger.c
    query = select(c.entry).where(c.kind == kind.value, c.received_at <= by).order_by(c.seq.desc()).limit(1)
    text = connection.execute(query).scalar()
    return read_back(json.loads(text)) if text is not None else None


def of_kinds(connection: Connection, kinds: Sequence[Kind], after: int = 0) -> list[Entry]:
    """The entries of these kinds after a number, in order."""
    c = ledger.c
    query = select(c.entry).where(c.seq > after, c.kind.in_([kind.value for kind in kinds])).order_by(c.seq)
    return [read_back(json.loads(text)) for text in connection.execute(query).scalars()]


def by_key(connection: Connection, place: str, keys: Sequence[str]) -> list[Entry]:
    """The entries of a place that stand under these keys."""
    found: list[Entry] = []
    for start in range(0, len(keys), _KEYS_AT_ONCE):
        some = keys[start : start + _KEYS_AT_ONCE]
        query = select(ledger.c.entry).where(ledger.c.key.in_(some), ledger.c.place == place)
        found.extend(read_back(json.loads(text)) for text in connection.execute(query).scalars())
    return found


def acted_on(connection: Connection, place: str, case: str) -> list[Entry]:
    """What people have done with a case, in order; nobody else does more of it before this transaction is over."""
    hold(connection, HEAD)
    c = ledger.c
    query = select(c.entry).where(c.place == place, c.kind == Kind.ACTION.value).order_by(c.seq)
    entries = (read_back(json.loads(text)) for text in connection.execute(query).scalars())
    return [entry for entry in entries if entry.text("case") == case]


def places_heard(connection: Connection) -> frozenset[str]:
    """The places that have entries."""
    return frozenset(connection.execute(select(ledger.c.place).distinct()).scalars()) - {""}


def _held(connection: Connection, keys: Sequence[str]) -> dict[tuple[str, str, str], _Held]:
    """What stands under these keys, found by (key, place) and by (key, sender)."""
    c = ledger.c
    held: dict[tuple[str, str, str], _Held] = {}
    for start in range(0, len(keys), _KEYS_AT_ONCE):
        query = select(c.key, c.place, c.sender, c.seq, c.content, c.received_at)
        for row in connection.execute(query.where(c.key.in_(keys[start : start + _KEYS_AT_ONCE]))):
            standing = _Held(row.seq, row.content, row.received_at)
            held["place", row.key, row.place] = held["sender", row.key, row.sender] = standing
    return held


def _repeated(entry: Entry, said: str, standing: Sequence[_Held]) -> Receipt:
    """Already held where one of those that stand says the same; else a conflict with the first of them."""
    same = next((one for one in standing if one.content == said), None)
    if same:
        return Receipt(entry.key, Outcome.ALREADY_HELD, same.seq, same.received_at)
    first = min(standing)
    says = f"entry {first.seq} already stands under this key and says something else; both are kept for the desk"
    return Receipt(entry.key, Outcome.CONFLICT, first.seq, first.received_at, says=says)


def _row(entry: Entry, said: str, seq: int, text: str, previous: str, digest: str) -> dict[str, object]:
    return {
        "seq": seq,
        "key": entry.key,
        "place": entry.place,
        "sender": entry.sender,
        "kind": entry.kind.value,
        "content": said,
        "happened_at": entry.happened_at,
        "received_at": entry.received_at,
        "entry": text,
        "previous": previous,
        "digest": digest,
    }


def digest_of(previous: str, text: str) -> str:
    """What chains an entry to the one before: SHA-256, in hex, of that one's digest and this one's text."""
    return hashlib.sha256((previous + text).encode()).hexdigest()
