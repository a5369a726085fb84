"""The files beside the plan within a backup: a table that only backups have, and only those of newer programs."""

from collections.abc import Mapping

from sqlalchemy import Column, Connection, LargeBinary, MetaData, String, Table, insert, inspect, select

_files = Table(
    "files_beside_the_plan",
    MetaData(),
    Column("name", String, primary_key=True),
    Column("content", LargeBinary, nullable=False),
)


def put(connection: Connection, files: Mapping[str, bytes]) -> None:
    """Write them into the backup that is being made."""
    _files.create(connection)
    if files:
        connection.execute(insert(_files), [{"name": name, "content": files[name]} for name in sorted(files)])


def read(connection: Connection) -> dict[str, bytes]:
    """The files by name; none in a backup of a program that did not take them along."""
    if not inspect(connection).has_table(_files.name):
        return {}
    return {row.name: row.content for row in connection.execute(select(_files).order_by(_files.c.name))}
