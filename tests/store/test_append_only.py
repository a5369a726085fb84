"""The database refuses what the program never asks: to change, to remove, to add out of order."""

import pytest
from sqlalchemy import Engine, text
from sqlalchemy.exc import DBAPIError

from county.domain.receipts import SetAside
from county.errors import Problem
from county.store import ledger, set_aside
from county.store.engine import reading, sqlite_library, writing
from tests.store.an_entry import OPENING, an_entry, entries
from tests.store.conftest import ON_POSTGRESQL, ON_SQLITE

REFUSED = "nothing is changed|nothing is deleted|numbers follow|already held"


@pytest.fixture
def kept(engine: Engine) -> Engine:
    """A database with three entries and one report set aside."""
    aside = SetAside("k", "place:P014", "endpoint", OPENING, "refused", (Problem("place", "is needed"),), "{}")
    with writing(engine) as connection:
        ledger.append(connection, entries(3))
        set_aside.put(connection, [aside])
    return engine


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE ledger SET entry = '{}' WHERE seq = 2",
        "UPDATE ledger SET seq = 9 WHERE seq = 3",
        "UPDATE ledger SET digest = digest",
        "DELETE FROM ledger WHERE seq = 3",
        "DELETE FROM ledger",
        "UPDATE set_aside SET reason = 'kept'",
        "DELETE FROM set_aside",
    ],
)
def test_an_update_or_a_delete_is_refused(kept: Engine, statement: str) -> None:
    before = _everything(kept)
    with pytest.raises(DBAPIError, match=REFUSED), writing(kept) as connection:
        connection.execute(text(statement))
    assert _everything(kept) == before


@pytest.mark.parametrize("number", [-1, 0, 1, 6])
@pytest.mark.parametrize("table", ["ledger", "set_aside"])
def test_only_the_next_number_may_be_added(kept: Engine, table: str, number: int) -> None:
    with pytest.raises(DBAPIError, match=REFUSED), writing(kept) as connection:
        connection.execute(text(_copy_of_first(table, number)))


@ON_POSTGRESQL
@pytest.mark.parametrize("table", ["ledger", "set_aside"])
def test_a_table_is_not_emptied(kept: Engine, table: str) -> None:
    with pytest.raises(DBAPIError, match=REFUSED), writing(kept) as connection:
        connection.execute(text(f"TRUNCATE {table}"))


@ON_SQLITE
@pytest.mark.parametrize("number", [2, 4])
def test_nothing_is_replaced_by_a_connection_that_knows_nothing_of_the_rules(kept: Engine, number: int) -> None:
    before = _everything(kept)
    replacing = _copy_of_first("ledger", number).replace("INSERT", "INSERT OR REPLACE", 1)
    stranger = sqlite_library().connect(str(kept.url.database))
    with pytest.raises(sqlite_library().IntegrityError, match=REFUSED):
        stranger.execute(replacing)
    stranger.close()
    assert _everything(kept) == before


def test_the_same_key_is_refused_by_the_database_itself(kept: Engine) -> None:
    with pytest.raises(DBAPIError), writing(kept) as connection:
        connection.execute(text(_copy_of_first("ledger", 4)))


def test_appending_goes_on_after_a_refusal(kept: Engine) -> None:
    with pytest.raises(DBAPIError), writing(kept) as connection:
        connection.execute(text("DELETE FROM ledger"))
    with writing(kept) as connection:
        assert ledger.append(connection, [an_entry("later")])[0].seq == 4


def _everything(engine: Engine) -> list[object]:
    with reading(engine) as connection:
        return [ledger.pages(connection), set_aside.latest(connection)]


def _copy_of_first(table: str, number: int) -> str:
    """A statement that adds the table's first row again under a number."""
    columns = {
        "ledger": "key, place, sender, kind, content, happened_at, received_at, entry, previous, digest",
        "set_aside": "set_aside_at, key, sender, door, reason, problems, raw, source, digest",
    }[table]
    name = {"ledger": "seq", "set_aside": "number"}[table]
    return f"INSERT INTO {table} ({name}, {columns}) SELECT {number}, {columns} FROM {table} WHERE {name} = 1"
