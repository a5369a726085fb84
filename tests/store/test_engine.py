"""Connections set up to lose nothing, and times that are never taken for another zone's."""

from datetime import UTC, datetime, timedelta, timezone

import pytest
from sqlalchemy import Column, Engine, Integer, MetaData, Table, insert, select
from sqlalchemy.exc import DBAPIError, StatementError

from county.store.engine import UtcTime, make_engine, reading, sqlite_library, writing
from tests.store.conftest import ON_POSTGRESQL

moments = Table("moments", MetaData(), Column("n", Integer, primary_key=True), Column("at", UtcTime))


@pytest.fixture
def table(engine: Engine) -> Engine:
    with writing(engine) as connection:
        moments.create(connection)
    return engine


def test_a_time_comes_back_the_same_moment_in_utc(table: Engine) -> None:
    told = datetime(2026, 11, 3, 5, 41, 7, 123456, timezone(timedelta(hours=-6)))
    with writing(table) as connection:
        connection.execute(insert(moments), [{"n": 1, "at": told}, {"n": 2, "at": None}])
    with reading(table) as connection:
        back, nothing = connection.execute(select(moments.c.at).order_by(moments.c.n)).scalars()
    assert (back, back.tzinfo, nothing) == (told, UTC, None)


def test_a_time_without_a_zone_is_refused(table: Engine) -> None:
    with pytest.raises(StatementError, match="without a zone"), writing(table) as connection:
        connection.execute(insert(moments), {"n": 1, "at": datetime(2026, 11, 3)})  # noqa: DTZ001


def test_times_are_compared_and_sorted_as_moments(table: Engine) -> None:
    told = [datetime(2026, 11, 3, 12, tzinfo=UTC) + timedelta(microseconds=n) for n in (5, 0, 1_000_000)]
    with writing(table) as connection:
        connection.execute(insert(moments), [{"n": n, "at": at} for n, at in enumerate(told)])
    with reading(table) as connection:
        query = select(moments.c.n).where(moments.c.at > told[1]).order_by(moments.c.at)
        assert connection.execute(query).scalars().all() == [0, 2]


def test_sqlite_is_set_up_to_lose_nothing(tmp_path: object) -> None:
    engine = make_engine(f"sqlite:///{tmp_path}/day.db")
    with reading(engine) as connection:
        pragmas = {
            name: connection.exec_driver_sql(f"PRAGMA {name}").scalar()
            for name in ("journal_mode", "synchronous", "foreign_keys", "busy_timeout", "recursive_triggers")
        }
    engine.dispose()
    assert pragmas == {
        "journal_mode": "wal",
        "synchronous": 2,
        "foreign_keys": 1,
        "busy_timeout": 15_000,
        "recursive_triggers": 1,
    }


def test_the_sqlite_in_use_is_free_of_the_log_reset_fault_where_one_can_be_had() -> None:
    pytest.importorskip("pysqlite3", reason="pysqlite3 has no wheel for this machine")
    assert sqlite_library().sqlite_version_info >= (3, 51, 3)


@ON_POSTGRESQL
def test_a_reader_cannot_write_by_mistake_on_postgresql(engine: Engine) -> None:
    with pytest.raises(DBAPIError, match="read-only transaction"), reading(engine) as connection:
        moments.create(connection)


def test_postgresql_addresses_without_a_driver_use_psycopg() -> None:
    assert make_engine("postgresql://somebody@localhost/day").driver == "psycopg"
