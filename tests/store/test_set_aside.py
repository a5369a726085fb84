"""What could not be kept is set aside once, readable, and of bounded size."""

from dataclasses import replace

import pytest
from sqlalchemy import Engine

from county.domain.intake import Hand
from county.domain.receipts import SetAside
from county.domain.settling import outcome_of, settled_key
from county.errors import Problem
from county.store import ledger, set_aside
from county.store.engine import reading, writing
from tests.store.an_entry import after

REFUSED = SetAside(
    key="k-1",
    sender="place:P014",
    door="endpoint",
    received_at=after(3),
    reason="refused",
    problems=(Problem("place", "is needed"), Problem("copies", "must be a whole number")),
    raw='{"key": "k-1"}',
)


def put(engine: Engine, *items: SetAside) -> int:
    with writing(engine) as connection:
        return set_aside.put(connection, items)


def latest(engine: Engine, limit: int | None = None) -> list[SetAside]:
    with reading(engine) as connection:
        return set_aside.latest(connection, limit)


def test_it_is_read_back_as_it_was_set_aside_newest_first(engine: Engine) -> None:
    second = replace(REFUSED, raw="[]", source="row 12", door="drop")
    assert put(engine, REFUSED, second) == 2
    assert latest(engine) == [replace(second, number=2), replace(REFUSED, number=1)]
    assert latest(engine, 1) == [replace(second, number=2)]


def test_a_sender_that_tries_again_fills_nothing(engine: Engine) -> None:
    put(engine, REFUSED, REFUSED)
    assert put(engine, replace(REFUSED, received_at=after(9))) == 0
    assert [item.received_at for item in latest(engine)] == [after(3)]


@pytest.mark.parametrize(
    "other", [{"sender": "place:P015"}, {"raw": "{}"}, {"reason": "conflict"}, {"source": "row 3"}], ids=str
)
def test_another_sender_text_reason_or_row_is_another(engine: Engine, other: dict[str, str]) -> None:
    put(engine, REFUSED)
    assert put(engine, replace(REFUSED, **other)) == 1  # type: ignore[arg-type]


def test_what_no_database_can_hold_is_written_out(engine: Engine) -> None:
    put(engine, replace(REFUSED, key="a\0b", raw="\0\ud800é", problems=(Problem("\0", "no \udfff"),)))
    held = latest(engine)[0]
    assert (held.key, held.raw) == ("a\\x00b", "\\x00\\ud800é")
    assert held.problems == (Problem("\\x00", "no \\udfff"),)


def test_a_long_text_is_cut_and_two_that_differ_after_the_cut_are_two(engine: Engine) -> None:
    long = "x" * 70_000
    assert put(engine, replace(REFUSED, raw=long), replace(REFUSED, raw=long + "y")) == 2
    assert {len(item.raw) for item in latest(engine)} == {set_aside.LONGEST + 2}


def test_more_than_one_question_can_hold_are_set_aside_together(engine: Engine) -> None:
    many = [replace(REFUSED, raw=str(n)) for n in range(1_100)]
    assert [put(engine, *many), put(engine, *many)] == [1_100, 0]


def test_what_is_settled_can_be_left_out(engine: Engine) -> None:
    items = [replace(REFUSED, raw=f"{number}") for number in range(12)]
    put(engine, *items)
    hand = Hand("board:Ann Lee", "Ann Lee", "board", after(9))
    with writing(engine) as connection:
        ledger.append(
            connection, [outcome_of(replace(REFUSED, number=number), hand, reason="no") for number in (1, 11)]
        )
    with reading(engine) as connection:
        left = set_aside.latest(connection, 4, settled_key(""))
    assert [item.number for item in left] == [12, 10, 9, 8]
    assert len(latest(engine)) == 12
