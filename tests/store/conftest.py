"""A database for each test of what is kept: SQLite, and PostgreSQL where a server can be had."""

import shutil
from collections.abc import Iterator
from itertools import count
from pathlib import Path

import pytest
from sqlalchemy import URL, Engine, create_engine, make_url

from county.settings import sqlite_url
from county.store.engine import make_engine
from county.store.migrate import migrate
from tests import migrated, postgres

_numbers = count(1)

# for what only one of the two knows: a test that asks for `engine` or `database_url` then runs on that one alone
ON_SQLITE = pytest.mark.parametrize("database_url", ["sqlite"], indirect=True)
ON_POSTGRESQL = pytest.mark.parametrize("database_url", ["postgresql"], indirect=True)


@pytest.fixture(scope="session")
def postgres_server() -> Iterator[URL]:
    """The address of a running server, with a migrated database named `template` to copy."""
    try:
        with postgres.running() as server:
            _create(server, "template")
            engine = make_engine(_address(server, "template"))
            migrate(engine)
            engine.dispose()
            yield server
    except postgres.NoServer as error:
        pytest.skip(f"the store's tests on PostgreSQL: {error}")


@pytest.fixture(scope="session")
def sqlite_template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A migrated SQLite file to copy."""
    file = tmp_path_factory.mktemp("template") / "template.db"
    migrated.put(sqlite_url(file))
    return file


@pytest.fixture(params=["sqlite", "postgresql"])
def empty_url(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """The address of a database in which nothing is."""
    return _new(request, tmp_path, migrated=False)


@pytest.fixture(params=["sqlite", "postgresql"])
def database_url(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """The address of a migrated database without rows."""
    return _new(request, tmp_path, migrated=True)


@pytest.fixture
def engine(database_url: str) -> Iterator[Engine]:
    """An engine for a migrated database without rows."""
    engine = make_engine(database_url)
    yield engine
    engine.dispose()


@pytest.fixture
def another(database_url: str, request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Engine]:
    """An engine for a second migrated database of the same kind without rows."""
    engine = make_engine(_new(request, tmp_path, migrated=True, kind=make_url(database_url).get_backend_name()))
    yield engine
    engine.dispose()


@pytest.fixture
def other_kind(database_url: str, request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Engine]:
    """An engine for a migrated database of the other kind."""
    kind = {"sqlite": "postgresql", "postgresql": "sqlite"}[make_url(database_url).get_backend_name()]
    engine = make_engine(_new(request, tmp_path, migrated=True, kind=kind))
    yield engine
    engine.dispose()


def _new(request: pytest.FixtureRequest, tmp_path: Path, *, migrated: bool, kind: str = "") -> str:
    number = next(_numbers)
    if (kind or request.param) == "sqlite":
        file = tmp_path / f"day{number}.db"
        if migrated:
            shutil.copyfile(request.getfixturevalue("sqlite_template"), file)
        return sqlite_url(file)
    server: URL = request.getfixturevalue("postgres_server")
    _create(server, f"day{number}", template="template" if migrated else "template0")
    return _address(server, f"day{number}")


def _create(server: URL, name: str, template: str = "template0") -> None:
    engine = create_engine(server, isolation_level="AUTOCOMMIT")
    with engine.connect() as connection:
        connection.exec_driver_sql(f"CREATE DATABASE {name} TEMPLATE {template}")
    engine.dispose()


def _address(server: URL, name: str) -> str:
    return server.set(database=name).render_as_string(hide_password=False)
