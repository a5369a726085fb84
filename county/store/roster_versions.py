"""Every roster that was ever loaded, kept once under its fingerprint, so that a review finds it as it was."""

import zlib

from sqlalchemy import Connection, func, insert, select

from county.domain.roster import Roster
from county.domain.roster_digest import read_written_roster, roster_digest, written_roster
from county.store.schema import roster_versions


def keep(connection: Connection, roster: Roster) -> str:
    """Keep a roster, once however often it is loaded; its fingerprint. The transaction must be a writing one."""
    digest = roster_digest(roster)
    if not connection.execute(select(roster_versions.c.number).where(roster_versions.c.digest == digest)).first():
        last = connection.execute(select(func.coalesce(func.max(roster_versions.c.number), 0))).scalar_one()
        content = zlib.compress(written_roster(roster).encode(), 9)
        connection.execute(insert(roster_versions).values(number=last + 1, digest=digest, content=content))
    return digest


def find(connection: Connection, digest: str) -> Roster | None:
    """The roster with this fingerprint, or None where it was never kept or is no longer what it was."""
    query = select(roster_versions.c.content).where(roster_versions.c.digest == digest)
    content = connection.execute(query).scalar()
    found = read_written_roster(zlib.decompress(content).decode()) if content is not None else None
    return found if found is None or roster_digest(found) == digest else None
