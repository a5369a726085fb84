"""The outbox: each message is one sender's at a time, goes in the order of its cases, and ends once."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import datetime, timedelta

import pytest
from sqlalchemy import Engine

from county.domain.messages import Message, Waiting
from county.store import outbox
from county.store.engine import make_engine, reading, writing
from tests.builders import after
from tests.notices.an_office import a_waiting

NOW = after()
SOON = NOW + timedelta(seconds=30)


@pytest.fixture
def engine(database_url: str) -> Iterator[Engine]:
    engine = make_engine(database_url)
    yield engine
    engine.dispose()


def owe(engine: Engine, *notices: Waiting) -> None:
    """Notices owed, each in a message of its own."""
    with writing(engine) as connection:
        outbox.put(connection, notices)
        for each in outbox.waiting(connection):
            one = Message(each.notice, each.number, each.person, each.kind, each.title, each.body)
            outbox.make(connection, one, [each.notice], NOW)


def lease(engine: Engine, person: str = "Ada Rill", now: datetime = NOW, holder: str = "one") -> int | None:
    """The number of the message leased, or None."""
    with writing(engine) as connection:
        message = outbox.lease(connection, person, holder, now, now + timedelta(seconds=30))
    return message.number if message else None


def end(engine: Engine, number: int, outcome: str = outbox.ARRIVED) -> list[int]:
    with writing(engine) as connection:
        return [each.number for each in outbox.end(connection, f"{number:012x}", outcome, NOW, "why")]


def test_what_is_owed_waits_until_a_message_carries_it(engine: Engine) -> None:
    with writing(engine) as connection:
        outbox.put(connection, [a_waiting(2), a_waiting(1)])
        assert outbox.any_waiting(connection)
        assert outbox.waiting(connection) == [a_waiting(1), a_waiting(2)]
        outbox.make(connection, Message("m", 1, "Ada Rill", "silent", "t", "b"), [a_waiting(1).notice], NOW)
        assert outbox.waiting(connection) == [a_waiting(2)]
        assert outbox.made_since(connection, NOW - timedelta(seconds=1)) == {("Ada Rill", "silent"): [NOW]}
        assert outbox.made_since(connection, NOW) == {}


def test_messages_go_in_order_and_one_that_is_leased_is_nobody_elses_until_the_lease_runs_out(engine: Engine) -> None:
    owe(engine, a_waiting(2), a_waiting(1))
    assert [lease(engine), lease(engine), lease(engine)] == [1, 2, None]
    assert [lease(engine, now=SOON - timedelta(seconds=1)), lease(engine, now=SOON)] == [None, 1]


def test_each_persons_messages_are_their_own(engine: Engine) -> None:
    owe(engine, a_waiting(1), a_waiting(2, "Bo Fenn"))
    with reading(engine) as connection:
        assert outbox.people_waiting(connection, NOW) == ["Ada Rill", "Bo Fenn"]
    assert lease(engine, "Bo Fenn") == 2
    with reading(engine) as connection:
        assert outbox.people_waiting(connection, NOW) == ["Ada Rill"]


def test_a_later_notice_of_a_case_waits_for_the_earlier_one_to_the_same_person(engine: Engine) -> None:
    owe(
        engine,
        a_waiting(1, case="P014.fire"),
        a_waiting(2, "Bo Fenn", case="P014.fire"),
        a_waiting(3, case="P014.fire"),
    )
    assert [lease(engine), lease(engine), lease(engine, "Bo Fenn")] == [1, None, 2]
    assert end(engine, 1) == [1]
    assert lease(engine) == 3


def test_one_that_was_put_off_comes_again_when_its_time_comes(engine: Engine) -> None:
    owe(engine, a_waiting(1), a_waiting(2))
    assert lease(engine) == 1
    with writing(engine) as connection:
        outbox.put_off(connection, a_waiting(1).notice, "one", SOON, "busy")
    assert [lease(engine), lease(engine)] == [2, None]
    with writing(engine) as connection:
        again = outbox.lease(connection, "Ada Rill", "two", SOON, SOON)
    assert again is not None
    assert (again.number, again.tries) == (1, 1)


def test_only_whoever_holds_the_lease_may_put_it_off(engine: Engine) -> None:
    owe(engine, a_waiting(1))
    lease(engine, holder="one")
    lease(engine, now=SOON, holder="two")
    with writing(engine) as connection:
        outbox.put_off(connection, a_waiting(1).notice, "one", NOW, "late word")
    assert lease(engine, now=SOON) is None


def test_a_message_ends_once_and_is_never_sent_again(engine: Engine) -> None:
    owe(engine, a_waiting(1))
    lease(engine)
    assert [end(engine, 1), end(engine, 1), end(engine, 1, outbox.FAILED)] == [[1], [], []]
    assert lease(engine, now=SOON) is None
    with reading(engine) as connection:
        assert outbox.failed(connection) == []


def test_what_failed_for_good_is_listed_with_its_reason(engine: Engine) -> None:
    owe(engine, a_waiting(1), a_waiting(2))
    end(engine, 2, outbox.FAILED)
    with reading(engine) as connection:
        [failed] = outbox.failed(connection)
    assert (failed.notice, failed.person, failed.role, failed.place) == (
        a_waiting(2).notice,
        "Ada Rill",
        "lead",
        "P014",
    )
    assert (failed.why, failed.failed_at, failed.owed_at) == ("why", NOW, NOW)


def test_many_who_send_at_once_never_have_the_same_message(engine: Engine) -> None:
    owe(engine, *(a_waiting(number) for number in range(1, 61)))

    def drain(holder: str) -> list[int]:
        mine = []
        while (number := lease(engine, holder=holder)) is not None:
            mine.append(number)
        return mine

    with ThreadPoolExecutor(4) as senders:
        leased = list(senders.map(drain, "abcd"))
    assert sorted(number for mine in leased for number in mine) == list(range(1, 61))


def test_a_burst_of_many_is_one_message(engine: Engine) -> None:
    many = [a_waiting(number) for number in range(1, 1_301)]
    with writing(engine) as connection:
        outbox.put(connection, many)
        outbox.make(connection, Message("m", 1, "Ada Rill", "silent", "t", "b"), [each.notice for each in many], NOW)
        assert not outbox.any_waiting(connection)
        assert outbox.end(connection, "m", outbox.ARRIVED, NOW) == many
