"""Laws of keeping: what is new is kept once, in order, whatever the order and repetition it comes in."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from itertools import count

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import Engine

from county.domain.entries import Entry
from county.domain.entry_form import as_sent, written
from county.domain.receipts import Outcome, Receipt
from county.store import chain, ledger
from county.store.engine import reading, writing
from tests.store.an_entry import an_entry, entries, without_time

ONE_DATABASE = settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow]
)
_days = count(1)


def keep(engine: Engine, *batch: Entry) -> list[Receipt]:
    with writing(engine) as connection:
        return ledger.append(connection, batch)


def kept(engine: Engine, after: int = 0) -> list[Entry]:
    with reading(engine) as connection:
        return ledger.read(connection, after)


def test_an_entry_is_read_back_as_it_was_kept(engine: Engine) -> None:
    told = an_entry("k", note="line\nbreak, “quotes”, é 😀", seal_intact=True, shown_precincts=("14A", "14B"))
    assert [receipt.outcome for receipt in keep(engine, told)] == [Outcome.KEPT]
    assert kept(engine) == [replace(told, seq=1)]


def test_a_receipt_names_number_and_time(engine: Engine) -> None:
    first, second = entries(2)
    assert keep(engine, first, second) == [
        Receipt(first.key, Outcome.KEPT, 1, first.received_at),
        Receipt(second.key, Outcome.KEPT, 2, second.received_at),
    ]


def test_a_repeat_later_is_already_held_under_the_first_number_and_time(engine: Engine) -> None:
    told = an_entry()
    keep(engine, an_entry("other"), told)
    again = replace(told, received_at=told.received_at + timedelta(minutes=9))
    assert keep(engine, again) == [Receipt(told.key, Outcome.ALREADY_HELD, 2, told.received_at)]
    assert len(kept(engine)) == 2


def test_a_repeat_without_a_time_is_already_held_however_late_it_comes(engine: Engine) -> None:
    told = an_entry()
    later = replace(told, received_at=told.received_at + timedelta(hours=1))
    keep(engine, without_time(told))
    assert keep(engine, without_time(later))[0].outcome is Outcome.ALREADY_HELD


@pytest.mark.parametrize(
    "other",
    [
        {"fields": {"public_counter": 413, "in_line": 18}},
        {"fields": {"public_counter": 412}},
        {"happened_at": an_entry().happened_at + timedelta(seconds=1)},
    ],
    ids=["another number", "a field less", "another time"],
)
def test_the_same_key_with_other_content_is_a_conflict_and_the_first_stands(
    engine: Engine, other: dict[str, object]
) -> None:
    told = an_entry()
    keep(engine, told)
    receipt = keep(engine, replace(told, **other))[0]  # type: ignore[arg-type]
    assert (receipt.outcome, receipt.seq, receipt.received_at) == (Outcome.CONFLICT, 1, told.received_at)
    assert "entry 1" in receipt.says
    assert kept(engine) == [replace(told, seq=1)]


def test_repeats_and_conflicts_within_one_batch_are_found(engine: Engine) -> None:
    told = an_entry()
    receipts = keep(engine, told, told, an_entry(public_counter=1), told)
    assert [receipt.outcome for receipt in receipts] == [
        Outcome.KEPT,
        Outcome.ALREADY_HELD,
        Outcome.CONFLICT,
        Outcome.ALREADY_HELD,
    ]
    assert {receipt.seq for receipt in receipts} == {1}


def test_two_places_may_use_the_same_key(engine: Engine) -> None:
    receipts = keep(engine, an_entry("1", "P014"), an_entry("1", "P015"))
    assert [receipt.outcome for receipt in receipts] == [Outcome.KEPT, Outcome.KEPT]


def test_one_sender_may_not_use_a_key_for_two_places(engine: Engine) -> None:
    receipts = keep(engine, an_entry("1", "P014", sender="desk:Front"), an_entry("1", "P015", sender="desk:Front"))
    assert [receipt.outcome for receipt in receipts] == [Outcome.KEPT, Outcome.CONFLICT]


def test_the_same_report_through_another_sender_is_already_held(engine: Engine) -> None:
    receipts = keep(engine, an_entry("1", "P014"), an_entry("1", "P014", sender="drop:morning.csv"))
    assert [receipt.outcome for receipt in receipts] == [Outcome.KEPT, Outcome.ALREADY_HELD]


def test_a_report_that_meets_two_is_already_held_where_one_of_them_says_the_same(engine: Engine) -> None:
    keep(engine, an_entry("1", "P015", sender="desk:Front"), an_entry("1", "P014"))
    assert keep(engine, an_entry("1", "P014", sender="desk:Front"))[0].outcome is Outcome.ALREADY_HELD


def test_a_field_may_not_hide_one_of_the_entrys_own(engine: Engine) -> None:
    with pytest.raises(ValueError, match="hide digest"):
        keep(engine, an_entry("1", digest="0" * 64))
    assert kept(engine) == []


def test_a_failed_transaction_keeps_nothing_and_leaves_no_gap(engine: Engine) -> None:
    with writing(engine) as connection:
        ledger.append(connection, entries(3, "lost"))
        connection.rollback()
    assert [receipt.seq for receipt in keep(engine, *entries(2))] == [1, 2]


def test_more_keys_than_one_question_can_hold_are_all_looked_up(engine: Engine) -> None:
    many = entries(1_201)
    keep(engine, *many)
    receipts = keep(engine, *many, an_entry("new"))
    assert [receipt.outcome for receipt in receipts] == [Outcome.ALREADY_HELD] * 1_201 + [Outcome.KEPT]


def test_what_is_read_can_be_read_from_any_number_on(engine: Engine) -> None:
    keep(engine, *entries(5))
    with reading(engine) as connection:
        assert [entry.seq for entry in ledger.read(connection, 3)] == [4, 5]
        assert [entry.seq for entry in ledger.read(connection, 1, 2)] == [2, 3]
        assert ledger.read(connection, 5) == []
        assert ledger.head(connection)[0] == 5
        assert ledger.places_heard(connection) == {"P014"}


def test_pages_give_the_entry_flat_with_previous_and_digest(engine: Engine) -> None:
    told = an_entry()
    keep(engine, told)
    with reading(engine) as connection:
        page = ledger.pages(connection)[0]
    digest = page.pop("digest")
    assert page == written(told, 1, "0" * 64)
    assert page["public_counter"] == 412
    assert isinstance(digest, str)


def test_as_sent_gives_back_what_a_sender_would_send() -> None:
    told = an_entry("k", note="x")
    assert as_sent(told) == {
        "key": "k",
        "kind": "count",
        "place": "P014",
        "happened_at": "2026-11-03T12:00:00Z",
        "note": "x",
    }
    assert "happened_at" not in as_sent(without_time(told))


@ONE_DATABASE
@given(data=st.data())
def test_any_order_and_repetition_keeps_the_same_set(engine: Engine, data: st.DataObject) -> None:
    day = f"d{next(_days)}"
    told = entries(6, day, place=day)
    batches: Sequence[Sequence[Entry]] = data.draw(
        st.lists(st.lists(st.sampled_from(told), max_size=8), min_size=1, max_size=5)
    )
    with reading(engine) as connection:
        before = ledger.head(connection)[0]
    receipts = [keep(engine, *batch) for batch in batches]
    sent = {entry.key: entry for batch in batches for entry in batch}
    held = kept(engine, before)
    assert {entry.key: replace(entry, seq=0) for entry in held} == sent
    assert [entry.seq for entry in held] == list(range(before + 1, before + len(sent) + 1))
    numbers = {entry.key: entry.seq for entry in held}
    assert all(receipt.seq == numbers[receipt.key] for batch in receipts for receipt in batch)
    outcomes = [receipt.outcome for batch in receipts for receipt in batch]
    assert outcomes.count(Outcome.KEPT) == len(sent)
    assert set(outcomes) <= {Outcome.KEPT, Outcome.ALREADY_HELD}
    with reading(engine) as connection:
        assert chain.verify(connection) is None
