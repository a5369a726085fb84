"""What a sender sent and could not be kept, with its reason: appended, never changed; a repeat adds nothing."""

import hashlib
from collections.abc import Sequence

import rfc8785
from sqlalchemy import Connection, String, cast, exists, func, insert, literal, select

from county.domain.receipts import SetAside
from county.errors import Problem
from county.store.archive_marks import refuse_archive
from county.store.locks import HEAD, hold
from county.store.schema import ledger, set_aside

LONGEST = 64_000
_LONGEST_WORD = 200


def put(connection: Connection, items: Sequence[SetAside]) -> int:
    """Set aside what was not set aside before; how many were new. The transaction must be a writing one."""
    if not items:
        return 0
    hold(connection, HEAD)
    refuse_archive(connection)
    rows = dict(map(_row, items))
    for digest in _held(connection, list(rows)):
        del rows[digest]
    number = connection.execute(select(func.coalesce(func.max(set_aside.c.number), 0))).scalar_one()
    if rows:
        connection.execute(insert(set_aside), [row | {"number": number + n} for n, row in enumerate(rows.values(), 1)])
    return len(rows)


def latest(connection: Connection, limit: int | None = None, unless: str = "") -> list[SetAside]:
    """What was set aside, newest first; at most `limit`.

    With `unless`, only that for which the ledger holds no entry of the whole county under this and the item's number.
    """
    query = select(set_aside).order_by(set_aside.c.number.desc()).limit(limit)
    if unless:
        key = literal(unless) + cast(set_aside.c.number, String)
        query = query.where(~exists().where(ledger.c.key == key, ledger.c.place == ""))
    rows = connection.execute(query)
    return [
        SetAside(
            key=row.key,
            sender=row.sender,
            door=row.door,
            received_at=row.set_aside_at,
            reason=row.reason,
            problems=tuple(Problem(field, says) for field, says in row.problems),
            raw=row.raw,
            source=row.source,
            number=row.number,
        )
        for row in rows
    ]


def _held(connection: Connection, digests: list[str]) -> list[str]:
    held: list[str] = []
    for start in range(0, len(digests), 500):
        query = select(set_aside.c.digest).where(set_aside.c.digest.in_(digests[start : start + 500]))
        held.extend(connection.execute(query).scalars())
    return held


def _row(item: SetAside) -> tuple[str, dict[str, object]]:
    """A row without its number, and the digest by which the same is set aside once."""
    raw, source = _clean(item.raw, LONGEST), _clean(item.source, _LONGEST_WORD)
    # the whole text counts, also where only its beginning is kept
    told = [item.sender, item.reason, source, _clean(item.raw)]
    digest = hashlib.sha256(rfc8785.dumps(told)).hexdigest()
    row: dict[str, object] = {
        "set_aside_at": item.received_at,
        "key": _clean(item.key, _LONGEST_WORD),
        "sender": item.sender,
        "door": item.door,
        "reason": item.reason,
        "problems": [[_clean(p.field, _LONGEST_WORD), _clean(p.says, 2_000)] for p in item.problems],
        "raw": raw,
        "source": source,
        "digest": digest,
    }
    return digest, row


def _clean(text: str, longest: int | None = None) -> str:
    """The text as a database can hold it: NUL and lone surrogates written out, cut where it is too long."""
    fit = text.encode("utf-8", "backslashreplace").decode().replace("\0", "\\x00")
    return fit if longest is None or len(fit) <= longest else f"{fit[:longest]} …"
