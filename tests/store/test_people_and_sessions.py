"""Accounts, sessions and failed sign-ins on both databases."""

from datetime import datetime, timedelta

import pytest
from sqlalchemy import Engine, text
from sqlalchemy.exc import DatabaseError

from county.domain.people import Person, Role
from county.store import people, sessions, sign_in_log
from county.store.engine import reading, writing
from county.store.sign_in_log import FailedSignIn
from tests.store.an_entry import OPENING

ANN, BO = Person("Ann Lee", Role.LEAD), Person("Bo Tran", Role.DESK)


def later(minutes: int) -> datetime:
    return OPENING + timedelta(minutes=minutes)


@pytest.fixture
def staffed(engine: Engine) -> Engine:
    with writing(engine) as connection:
        people.add(connection, ANN, OPENING, password="a hash", must_change=True, known_as="ann@county.example")
        people.add(connection, BO, OPENING)
    return engine


def test_an_account_is_found_as_its_name_is_written_by_anybody(staffed: Engine) -> None:
    with reading(staffed) as connection:
        for name in ("Ann Lee", "ann lee", " ANN   LEE "):
            found = people.named(connection, name)
            assert found is not None
            assert (found.person, found.must_change, found.known_as) == (ANN, True, "ann@county.example")
        assert people.named(connection, "Ann") is None
        assert people.password_of(connection, "Ann Lee") == "a hash"
        assert people.password_of(connection, "Bo Tran") == people.password_of(connection, "Nobody") == ""


def test_nobody_is_known_by_no_name_or_by_one_that_two_have(staffed: Engine) -> None:
    with writing(staffed) as connection:
        found = people.known_as(connection, "ann@county.example")
        assert found is not None
        assert found.person == ANN
        assert people.known_as(connection, "") is None
        people.change(connection, "Bo Tran", known_as="ann@county.example")
        assert people.known_as(connection, "ann@county.example") is None


def test_whose_account_has_ended_is_no_longer_among_everyone(staffed: Engine) -> None:
    with writing(staffed) as connection:
        people.change(connection, "Bo Tran", ended_at=later(5))
        assert people.everyone(connection) == (ANN,)
        assert [account.ended_at for account in people.accounts(connection)] == [None, later(5)]


def test_a_session_is_kept_by_its_mark_and_ends_once(staffed: Engine) -> None:
    with writing(staffed) as connection:
        token = sessions.begin(connection, "Ann Lee", OPENING)
        mark = sessions.mark_of(token)
        raw = connection.execute(text("SELECT * FROM sessions")).mappings().one()
        assert token not in str(dict(raw))
        kept = sessions.find(connection, mark)
        assert kept is not None
        assert (kept.signed_in.name, kept.signed_in.role, kept.signed_in.since) == ("Ann Lee", Role.LEAD, OPENING)
        assert (kept.seen_at, kept.ended_at, kept.account_ended) == (OPENING, None, False)
        sessions.used(connection, mark, later(3))
        assert [sessions.end(connection, mark, later(5), "out"), sessions.end(connection, mark, later(6), "x")] == [
            True,
            False,
        ]
        sessions.used(connection, mark, later(7))
        over = sessions.find(connection, mark)
        assert over is not None
        assert (over.seen_at, over.ended_at) == (later(3), later(5))
        assert sessions.find(connection, sessions.mark_of("another")) is None


def test_lasting_sessions_are_those_of_a_person_or_of_everybody(staffed: Engine) -> None:
    with writing(staffed) as connection:
        first = sessions.begin(connection, "Ann Lee", OPENING)
        sessions.begin(connection, "Ann Lee", later(1))
        sessions.begin(connection, "Bo Tran", later(2))
        sessions.end(connection, sessions.mark_of(first), later(3), "out")
        assert [kept.signed_in.name for kept in sessions.lasting(connection)] == ["Ann Lee", "Bo Tran"]
        assert [kept.signed_in.since for kept in sessions.lasting(connection, "Ann Lee")] == [later(1)]


def test_failed_sign_ins_are_added_and_never_changed_or_removed(engine: Engine) -> None:
    with writing(engine) as connection:
        for n in range(3):
            sign_in_log.put(connection, FailedSignIn(later(n), "Ann Lee", "192.0.2.1", f"why {n}"))
    for statement in (
        "UPDATE failed_sign_ins SET person = ''",
        "DELETE FROM failed_sign_ins",
        "INSERT INTO failed_sign_ins VALUES (9, '2026-11-03T12:00:00Z', '', '', '')",
    ):
        with pytest.raises(DatabaseError), writing(engine) as connection:
            connection.execute(text(statement))
    with reading(engine) as connection:
        assert [each.why for each in sign_in_log.latest(connection, 2)] == ["why 2", "why 1"]


def test_the_signing_key_is_made_once(engine: Engine) -> None:
    with writing(engine) as connection:
        made = sign_in_log.signing_key(connection)
    with writing(engine) as connection:
        assert sign_in_log.signing_key(connection) == made
    assert len(made) >= 64
