"""The plan's versions, found by their keys in the ledger."""

from collections.abc import Sequence

from sqlalchemy import Connection, inspect, select

from county.domain.entries import Kind
from county.domain.plan_versions import PlanVersion, versions
from county.store import ledger
from county.store.schema import ledger as table

_AT_ONCE = 200


def every_version(connection: Connection) -> tuple[PlanVersion, ...]:
    """Every version, oldest first; none in a database that has no ledger yet."""
    if not inspect(connection).has_table(table.name):
        return ()
    found: tuple[PlanVersion, ...] = ()
    while len(found) % _AT_ONCE == 0:
        # versions are numbered without gaps, and a look-up by key never reads through the whole ledger
        keys = [f"plan/{len(found) + number}" for number in range(1, _AT_ONCE + 1)]
        more = versions(ledger.by_key(connection, "", keys))
        if not more:
            break
        found += more
    return found


def holds_from(connection: Connection, sender: str) -> bool:
    """Whether the ledger holds anything from this sender."""
    return connection.execute(select(table.c.seq).where(table.c.sender == sender).limit(1)).first() is not None


def holds_between(connection: Connection, after: int, before: int | None, kinds: Sequence[Kind]) -> bool:
    """Whether an entry of these kinds stands between two numbers, or after the first where there is no second."""
    query = select(table.c.seq).where(table.c.seq > after, table.c.kind.in_([kind.value for kind in kinds]))
    if before is not None:
        query = query.where(table.c.seq < before)
    return connection.execute(query.limit(1)).first() is not None
