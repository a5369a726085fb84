"""Whether this data store is an archive, opened to be read; and closing it once all of it is there."""

from sqlalchemy import Connection, insert, select

from county.domain.archive_mark import ArchiveMark
from county.errors import Archived
from county.store.schema import archive_marks, device_logs, devices, ledger, places, precincts, rovers, seals, set_aside

_CLOSED = (ledger, set_aside, device_logs, places, precincts, devices, seals, rovers)
_DOINGS = ("INSERT", "UPDATE", "DELETE")


def mark(connection: Connection) -> ArchiveMark | None:
    """The mark of the archive that this is; None where it is an office's own data store."""
    row = connection.execute(select(archive_marks)).first()
    return ArchiveMark(row.election, row.as_of, row.digest) if row else None


def refuse_archive(connection: Connection) -> None:
    """Raises Archived where this is an archive."""
    found = mark(connection)
    if found:
        raise Archived(f"this is {found}: it is only read, and nothing is added to it")


def close(connection: Connection, found: ArchiveMark) -> None:
    """Mark this SQLite data store as an archive; from now on the database itself refuses any change of the record."""
    connection.execute(insert(archive_marks).values(election=found.election, as_of=found.as_of, digest=found.digest))
    for table in _CLOSED:
        for doing in _DOINGS:
            connection.exec_driver_sql(
                f"CREATE TRIGGER {table.name}_archive_{doing.lower()} BEFORE {doing} ON {table.name} "
                "BEGIN SELECT RAISE(ABORT, 'this is an archive: nothing is added to it'); END"
            )
