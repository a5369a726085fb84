"""Reporting keys: shown once, kept as a hash, good until revoked."""

from sqlalchemy import Engine, select

from county.store import keys, schema
from county.store.engine import reading, writing
from tests.store.an_entry import OPENING, after


def issue(engine: Engine, holder: str) -> str:
    with writing(engine) as connection:
        return keys.issue(connection, holder, OPENING)


def holder_of(engine: Engine, token: str) -> str | None:
    with reading(engine) as connection:
        return keys.holder_of(connection, token)


def test_a_key_is_its_holders_and_no_other_key_is(engine: Engine) -> None:
    token = issue(engine, "place:P014")
    assert holder_of(engine, token) == "place:P014"
    assert [holder_of(engine, other) for other in ("", token[:-1], token + "x", "pr_", "\0", "\ud800")] == [None] * 6


def test_two_keys_of_one_holder_are_both_good(engine: Engine) -> None:
    tokens = [issue(engine, "desk:Front") for _ in range(2)]
    assert [holder_of(engine, token) for token in tokens] == ["desk:Front"] * 2
    with reading(engine) as connection:
        assert keys.live(connection) == {"desk:Front": 2}


def test_a_revoked_key_is_nobodys_and_the_others_stay(engine: Engine) -> None:
    gone, stays = issue(engine, "place:P014"), issue(engine, "place:P015")
    with writing(engine) as connection:
        assert keys.revoke(connection, "place:P014", after(1)) == 1
        assert keys.revoke(connection, "place:P014", after(2)) == 0
    assert [holder_of(engine, gone), holder_of(engine, stays)] == [None, "place:P015"]


def test_all_keys_can_be_revoked_at_once(engine: Engine) -> None:
    tokens = [issue(engine, f"place:P{n:03}") for n in range(3)]
    with writing(engine) as connection:
        assert keys.revoke(connection, None, after(1)) == 3
    assert [holder_of(engine, token) for token in tokens] == [None] * 3


def test_the_key_itself_is_nowhere_in_the_database(engine: Engine) -> None:
    token = issue(engine, "place:P014")
    with reading(engine) as connection:
        row = connection.execute(select(schema.keys)).one()
    assert token.startswith("pr_")
    assert len(token) >= 32
    assert not [value for value in row if token[3:] in str(value)]
