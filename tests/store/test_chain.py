"""The chain: recomputed here from nothing but what /ledger gives, and broken in every way that can be thought of."""

import hashlib
from collections.abc import Sequence

import pytest
import rfc8785
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from sqlalchemy import Connection, Engine, text

from county.store import chain, ledger
from county.store.engine import reading, writing
from tests.store.an_entry import an_entry, entries, without_time
from tests.store.conftest import ON_SQLITE

COLUMNS = ("entry", "key", "place", "sender", "kind", "content", "previous", "digest")


@pytest.fixture
def kept(engine: Engine) -> Engine:
    """A database with ten entries, among them lists, corrections of time, and text beyond ASCII."""
    with writing(engine) as connection:
        ledger.append(connection, entries(7))
        ledger.append(connection, [an_entry("words", shown_precincts=("14A", "14B"), seal_intact=False)])
        ledger.append(connection, [without_time(an_entry("late", note="é 😀 \u2028"))])
        ledger.append(connection, [an_entry("last")])
    return engine


def test_the_chain_can_be_recomputed_from_what_the_ledger_gives(kept: Engine) -> None:
    with reading(kept) as connection:
        pages = ledger.pages(connection)
    previous = "0" * 64
    for number, page in enumerate(pages, 1):
        digest = page.pop("digest")
        assert page["seq"] == number
        assert page["previous"] == previous
        assert hashlib.sha256(previous.encode() + rfc8785.dumps(page)).hexdigest() == digest  # type: ignore[arg-type]
        previous = str(digest)
    with reading(kept) as connection:
        assert ledger.head(connection) == (10, previous)


def test_a_whole_chain_holds_and_progress_is_told(kept: Engine) -> None:
    told: list[int] = []
    with reading(kept) as connection:
        assert chain.verify(connection, told.append) is None
    assert told == [10]


def test_an_empty_ledger_holds(engine: Engine) -> None:
    with reading(engine) as connection:
        assert chain.verify(connection) is None


@pytest.mark.parametrize("column", COLUMNS)
@pytest.mark.parametrize("seq", [1, 6, 10])
def test_any_column_changed_is_found_at_its_entry(kept: Engine, column: str, seq: int) -> None:
    assert _after(kept, f"UPDATE ledger SET {column} = {column} || 'x' WHERE seq = {seq}") == seq


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_any_character_changed_anywhere_is_found_at_its_entry(kept: Engine, data: st.DataObject) -> None:
    seq = data.draw(st.integers(1, 10))
    column = data.draw(st.sampled_from(COLUMNS))
    other = data.draw(st.characters(min_codepoint=32, max_codepoint=0x2FF, exclude_categories=["Cs"]))
    with reading(kept) as connection:
        value = connection.execute(text(f"SELECT {column} FROM ledger WHERE seq = {seq}")).scalar_one()
        keys = connection.execute(text("SELECT key FROM ledger")).scalars().all()
    at = data.draw(st.integers(0, len(value) - 1))
    changed = value[:at] + other + value[at + 1 :]
    # a key that stands already cannot even be written: the database refuses it
    assume(column != "key" or changed == value or changed not in keys)
    expected = None if changed == value else seq
    assert _after(kept, f"UPDATE ledger SET {column} = :changed WHERE seq = {seq}", changed=changed) == expected


@pytest.mark.parametrize("column", ["happened_at", "received_at"])
def test_a_time_changed_by_a_millionth_of_a_second_is_found(kept: Engine, column: str) -> None:
    changed = {
        "sqlite": f"replace({column}, '.000000Z', '.000001Z')",
        "postgresql": f"{column} + interval '1 microsecond'",
    }[kept.dialect.name]
    assert _after(kept, f"UPDATE ledger SET {column} = {changed} WHERE seq = 4") == 4


def test_a_number_changed_is_found(kept: Engine) -> None:
    assert _after(kept, "UPDATE ledger SET seq = 11 WHERE seq = 5") == 5


@pytest.mark.parametrize("seq", [1, 5, 9])
def test_an_entry_removed_is_found_as_missing(kept: Engine, seq: int) -> None:
    assert _after(kept, f"DELETE FROM ledger WHERE seq = {seq}") == seq


def test_two_entries_exchanged_are_found(kept: Engine) -> None:
    move = "UPDATE ledger SET seq = {} WHERE seq = {}"
    assert _after(kept, move.format(99, 3), move.format(3, 4), move.format(4, 99)) == 3


def test_an_entry_made_up_and_added_is_found(kept: Engine) -> None:
    columns = "place, sender, kind, content, happened_at, received_at, entry, previous, digest"
    made_up = f"INSERT INTO ledger (seq, key, {columns}) SELECT 11, 'made-up', {columns} FROM ledger WHERE seq = 10"
    assert _after(kept, made_up) == 11


def test_a_whole_entry_rewritten_with_its_digest_is_found_at_the_next(kept: Engine) -> None:
    with reading(kept) as connection:
        page = ledger.pages(connection)[4]
    del page["digest"]
    page["public_counter"] = 1
    written = rfc8785.dumps(page).decode()  # type: ignore[arg-type]
    digest = hashlib.sha256((str(page["previous"]) + written).encode()).hexdigest()
    content = hashlib.sha256(
        rfc8785.dumps(
            {"kind": "count", "place": "P014", "told": page["happened_at"], "fields": {"public_counter": 1}}  # type: ignore[dict-item]
        )
    ).hexdigest()
    rewritten = "UPDATE ledger SET entry = :entry, digest = :digest, content = :content WHERE seq = 5"
    assert _after(kept, rewritten, entry=written, digest=digest, content=content) == 6


def test_the_last_entry_cut_off_shows_in_the_last_digest_only(kept: Engine) -> None:
    with reading(kept) as connection:
        before = ledger.head(connection)
    with writing(kept) as connection:
        _defenceless(connection)
        connection.execute(text("DELETE FROM ledger WHERE seq = 10"))
    with reading(kept) as connection:
        assert chain.verify(connection) is None
        assert ledger.head(connection) != before


@ON_SQLITE
@pytest.mark.parametrize("damage", ["CAST(X'ff00fe' AS TEXT)", "X'00'"])
def test_text_that_is_no_text_is_found(kept: Engine, damage: str) -> None:
    assert _after(kept, f"UPDATE ledger SET entry = {damage} WHERE seq = 4") == 4


@pytest.mark.parametrize("damage", ["'[]'", "'{'", "''", "'null'", "'{\"seq\": 4}'"])
def test_damage_beyond_reading_is_found(kept: Engine, damage: str) -> None:
    assert _after(kept, f"UPDATE ledger SET entry = {damage} WHERE seq = 4") == 4


@ON_SQLITE
@pytest.mark.parametrize("column", ["happened_at", "received_at", "key", "place"])
def test_a_column_beyond_reading_is_found(kept: Engine, column: str) -> None:
    assert _after(kept, f"UPDATE ledger SET {column} = CAST(X'ff' AS TEXT) WHERE seq = 4") == 4


def _after(engine: Engine, *statements: str, **values: object) -> int | None:
    """What verify says after somebody who can take the rules away has done this; then all is as before."""
    with writing(engine) as connection:
        _defenceless(connection)
        _do(connection, statements, values)
        found = chain.verify(connection)
        connection.rollback()
    return found


def _do(connection: Connection, statements: Sequence[str], values: dict[str, object]) -> None:
    for statement in statements:
        connection.execute(text(statement.replace("'{\"seq\": 4}'", "'{\"seq\"\\: 4}'")), values)


def _defenceless(connection: Connection) -> None:
    if connection.dialect.name == "sqlite":
        for name in connection.execute(text("SELECT name FROM sqlite_master WHERE type = 'trigger'")).scalars().all():
            connection.execute(text(f"DROP TRIGGER {name}"))
    else:
        connection.execute(text("ALTER TABLE ledger DISABLE TRIGGER ALL"))
    if connection.dialect.name == "postgresql":
        for column in ("content", "previous", "digest"):
            connection.execute(text(f"ALTER TABLE ledger ALTER COLUMN {column} TYPE text"))
