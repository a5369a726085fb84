"""The database, SQLite or PostgreSQL: how connections are set up and how a transaction begins."""

import sqlite3
from collections.abc import Callable
from contextlib import AbstractContextManager
from datetime import UTC, datetime
from functools import partial
from types import ModuleType
from typing import Any

from sqlalchemy import Connection, DateTime, Dialect, Engine, String, create_engine, event, make_url
from sqlalchemy.engine.interfaces import DBAPIConnection
from sqlalchemy.pool import ConnectionPoolEntry
from sqlalchemy.types import TypeDecorator, TypeEngine

WAIT_SECONDS = 15


def sqlite_library() -> ModuleType:
    """The SQLite to use: the one bundled with pysqlite3 where it can be had, else Python's own.

    SQLite before 3.51.3 can corrupt a write-ahead log that two connections reset at once, and many systems carry an
    older one. A process must open a database with one of the two only.
    """
    try:
        import pysqlite3.dbapi2 as library
    except ImportError:
        return sqlite3
    return library  # type: ignore[no-any-return]


def make_engine(url: str, *, journal: str = "WAL") -> Engine:
    """An engine for a database address; nothing is opened yet. `journal` is SQLite's journal mode."""
    if make_url(url).get_backend_name() == "sqlite":
        engine = create_engine(url, module=sqlite_library(), connect_args={"timeout": WAIT_SECONDS})
        event.listen(engine, "connect", partial(_set_up_sqlite, journal))
        event.listen(engine, "begin", _begin_sqlite)
        return engine
    address = make_url(url).set(drivername="postgresql+psycopg")
    return create_engine(address, pool_pre_ping=True, connect_args={"connect_timeout": WAIT_SECONDS})


def writing(engine: Engine) -> AbstractContextManager[Connection]:
    """A transaction that writes: on SQLite it takes the write lock at once, so that it never fails half-way."""
    return engine.execution_options(sqlite_begin="IMMEDIATE").begin()


def reading(engine: Engine) -> AbstractContextManager[Connection]:
    """A transaction that only reads and sees one state of the database throughout."""
    if engine.dialect.name == "sqlite":
        return engine.begin()
    return engine.execution_options(isolation_level="REPEATABLE READ", postgresql_readonly=True).begin()


def _set_up_sqlite(journal: str, connection: DBAPIConnection, record: ConnectionPoolEntry) -> None:
    # the driver's own transactions begin too late and cannot be immediate; _begin_sqlite does it instead
    connection.isolation_level = None
    cursor = connection.cursor()
    for pragma in (f"journal_mode={journal}", "synchronous=FULL", "foreign_keys=ON", "recursive_triggers=ON"):
        cursor.execute(f"PRAGMA {pragma}")
    cursor.close()


def _begin_sqlite(connection: Connection) -> None:
    mode = connection.get_execution_options().get("sqlite_begin", "DEFERRED")
    connection.exec_driver_sql(f"BEGIN {mode}")


class UtcTime(TypeDecorator[datetime]):
    """An aware moment, kept in UTC and given back in UTC; a naive one is refused.

    SQLite has no such type, so there it is text of one fixed width, which sorts as time does.
    """

    impl = DateTime
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        return dialect.type_descriptor(String() if dialect.name == "sqlite" else DateTime(timezone=True))

    def bind_processor(self, dialect: Dialect) -> Callable[[datetime | None], object]:
        as_text = dialect.name == "sqlite"

        def bind(value: datetime | None) -> object:
            if value is None:
                return None
            if value.tzinfo is None:
                raise ValueError("a time without a zone cannot be kept")
            return write_utc(value) if as_text else value.astimezone(UTC)

        return bind

    def result_processor(self, dialect: Dialect, coltype: object) -> Callable[[Any], datetime | None]:
        as_text = dialect.name == "sqlite"

        def result(value: Any) -> datetime | None:
            if value is None:
                return None
            return datetime.fromisoformat(value) if as_text else value.astimezone(UTC)

        return result


def write_utc(moment: datetime) -> str:
    """A moment as SQLite keeps it: `2026-11-03T11:41:00.000000Z`."""
    return moment.astimezone(UTC).isoformat(timespec="microseconds").replace("+00:00", "Z")
