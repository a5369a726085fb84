"""The writer: what waits together is kept together, nothing is acknowledged before it is kept, nobody waits in vain."""

import asyncio
import threading
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime

import pytest

from county.domain.entries import Entry, Kind
from county.domain.receipts import Outcome, Receipt, SetAside
from county.errors import Busy
from ingest.waiting import Item
from ingest.writer import MOST_TOGETHER, CannotKeep, Writer

NOW = datetime(2026, 11, 3, 11, 45, tzinfo=UTC)


def an_entry(key: str) -> Entry:
    return Entry(key, Kind.NOTE, "P014", NOW, NOW, "P014", "endpoint", "place:P014", {"note": "n"})


class Shelf:
    """Keeps items as the desk does, in memory; breaks on what it is told to break on."""

    def __init__(self, *, breaks_on: Sequence[str] = (), broken: bool = False) -> None:
        self.batches: list[list[Item]] = []
        self.open = threading.Event()
        self.open.set()
        self.breaks_on, self.broken = breaks_on, broken

    def keep(self, items: Sequence[Item]) -> list[Receipt]:
        self.open.wait(timeout=10)
        if self.broken or any(isinstance(item, Entry) and item.key in self.breaks_on for item in items):
            raise ValueError("a row that no database takes")
        self.batches.append(list(items))
        return [
            Receipt(item.key, Outcome.KEPT if isinstance(item, Entry) else Outcome.REFUSED, 1, item.received_at)
            for item in items
        ]


def test_what_waits_together_is_kept_in_one_transaction() -> None:
    shelf = Shelf()
    writer = Writer(shelf.keep)

    async def send() -> list[list[Receipt]]:
        waiting = [asyncio.create_task(writer.keep([an_entry(f"k-{n}")])) for n in range(50)]
        await asyncio.sleep(0)
        writer.start()
        return await asyncio.gather(*waiting)

    receipts = asyncio.run(send())
    writer.stop()
    assert [[receipt.key for receipt in given] for given in receipts] == [[f"k-{n}"] for n in range(50)]
    assert [len(batch) for batch in shelf.batches] == [50]
    assert writer.outcomes == {"kept": 50}
    assert writer.waiting == 0


def test_senders_who_were_answered_together_are_awaited_together(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("ingest.writer.LOOKS", 10_000)
    shelf = Shelf()
    writer = Writer(shelf.keep)

    async def send(keys: str) -> None:
        await asyncio.gather(*(writer.keep([an_entry(key)]) for key in keys))

    async def send_all() -> None:
        first = asyncio.create_task(send("abc"))
        await asyncio.sleep(0)
        await asyncio.sleep(0)
        writer.start()
        await first
        early = asyncio.create_task(send("d"))
        await asyncio.sleep(0.05)
        assert len(shelf.batches) == 1
        await send("ef")
        await early

    asyncio.run(send_all())
    writer.stop()
    assert [[item.key for item in batch] for batch in shelf.batches] == [["a", "b", "c"], ["d", "e", "f"]]


def test_a_sender_alone_is_not_kept_waiting_for_others_for_long() -> None:
    shelf = Shelf()
    writer = Writer(shelf.keep)

    async def send() -> None:
        await asyncio.gather(*(writer.keep([an_entry(f"k-{n}")]) for n in range(10)))
        await asyncio.wait_for(writer.keep([an_entry("alone")]), timeout=5)

    writer.start()
    asyncio.run(send())
    writer.stop()


def test_one_transaction_takes_no_more_than_its_share() -> None:
    shelf = Shelf()
    writer = Writer(shelf.keep)
    with ThreadPoolExecutor(3) as pool:
        many = [[an_entry(f"{job}-{n}") for n in range(300)] for job in range(3)]
        given = [pool.submit(writer.keep_waiting, items) for items in many]
        while writer.waiting < 900:
            pass
        writer.start()
        assert [len(receipts.result()) for receipts in given] == [300, 300, 300]
    writer.stop()
    assert all(len(batch) <= MOST_TOGETHER for batch in shelf.batches)


def test_a_row_that_cannot_be_kept_costs_no_other_its_receipt_and_is_set_aside() -> None:
    shelf = Shelf(breaks_on=["poison"])
    writer = Writer(shelf.keep)

    async def send() -> list[list[Receipt]]:
        waiting = [asyncio.create_task(writer.keep([an_entry(key)])) for key in ("a", "poison", "b")]
        await asyncio.sleep(0)
        writer.start()
        return await asyncio.gather(*waiting)

    outcomes = [given[0].outcome for given in asyncio.run(send())]
    writer.stop()
    assert outcomes == [Outcome.KEPT, Outcome.REFUSED, Outcome.KEPT]
    aside = [item for batch in shelf.batches for item in batch if isinstance(item, SetAside)]
    assert [(item.key, item.reason) for item in aside] == [("poison", "failed")]
    assert "poison" in aside[0].raw


def test_where_nothing_can_be_kept_nothing_is_acknowledged() -> None:
    writer = Writer(Shelf(broken=True).keep)
    writer.start()
    with pytest.raises(CannotKeep):
        writer.keep_waiting([an_entry("a")])
    writer.stop()
    assert writer.outcomes == {}
    assert writer.waiting == 0


def test_more_than_can_wait_is_sent_away_and_room_is_made_again() -> None:
    shelf = Shelf()
    writer = Writer(shelf.keep, most_waiting=2)
    shelf.open.clear()
    writer.start()

    async def send() -> None:
        first = asyncio.create_task(writer.keep([an_entry("a"), an_entry("b")]))
        await asyncio.sleep(0)
        with pytest.raises(Busy) as busy:
            await writer.keep([an_entry("c")])
        assert busy.value.seconds > 0
        shelf.open.set()
        await first
        assert (await writer.keep([an_entry("c")]))[0].outcome is Outcome.KEPT

    asyncio.run(send())
    writer.stop()


def test_a_thread_that_can_wait_waits_for_room() -> None:
    shelf = Shelf()
    writer = Writer(shelf.keep, most_waiting=1)
    writer.start()
    with ThreadPoolExecutor(8) as pool:
        given = list(pool.map(lambda n: writer.keep_waiting([an_entry(f"k-{n}")])[0].outcome, range(40)))
    writer.stop()
    assert given == [Outcome.KEPT] * 40


def test_what_waits_at_the_end_is_written_and_what_comes_after_is_sent_away() -> None:
    shelf = Shelf()
    writer = Writer(shelf.keep)
    shelf.open.clear()
    writer.start()
    with ThreadPoolExecutor(20) as pool:
        given = [pool.submit(writer.keep_waiting, [an_entry(f"k-{n}")]) for n in range(20)]
        while writer.waiting < 20:
            pass
        shelf.open.set()
        writer.stop()
        assert [receipts.result()[0].outcome for receipts in given] == [Outcome.KEPT] * 20
    assert sum(map(len, shelf.batches)) == 20
    with pytest.raises(CannotKeep):
        writer.keep_waiting([an_entry("late")])


def test_a_writer_that_never_began_leaves_nobody_waiting() -> None:
    writer = Writer(Shelf().keep)
    with ThreadPoolExecutor(1) as pool:
        given = pool.submit(writer.keep_waiting, [an_entry("a")])
        while not writer.waiting:
            pass
        writer.stop()
        with pytest.raises(CannotKeep):
            given.result(timeout=10)


def test_a_sender_that_has_gone_loses_nothing() -> None:
    shelf = Shelf()
    writer = Writer(shelf.keep)
    shelf.open.clear()
    writer.start()

    async def send() -> None:
        gone = asyncio.create_task(writer.keep([an_entry("a")]))
        await asyncio.sleep(0)
        gone.cancel()
        await asyncio.gather(gone, return_exceptions=True)
        shelf.open.set()
        assert (await writer.keep([an_entry("b")]))[0].outcome is Outcome.KEPT

    asyncio.run(send())
    writer.stop()
    assert [item.key for batch in shelf.batches for item in batch] == ["a", "b"]
