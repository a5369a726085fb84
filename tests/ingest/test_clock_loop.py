"""The clock: each thing that time makes true is raised once, stamped when it became true, whoever and however often."""

import threading
import time
from pathlib import Path

from county import desk
from county.following import Following
from ingest.clock_loop import turn
from ingest.loops import Loop
from tests.an_office import set_up

AFTER_OPENING = "2026-11-03T06:20:00-06:00x0"


def test_two_clocks_at_once_raise_each_thing_once(tmp_path: Path) -> None:
    office = set_up(tmp_path / "data", AFTER_OPENING)
    clocks = [Following(office) for _ in range(2)]
    ready = threading.Barrier(2)
    raised: list[int] = []

    def run(following: Following) -> None:
        ready.wait()
        raised.extend(turn(office, following) for _ in range(5))

    threads = [threading.Thread(target=run, args=(following,)) for following in clocks]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    entries = [entry for entry in desk.ledger_pages(office) if entry["kind"] == "raised"]
    keys = [entry["key"] for entry in entries]
    assert len(keys) == len(set(keys)) == sum(raised) > 0
    assert desk.set_aside_list(office) == []
    late = [entry for entry in entries if entry["exception"] == "late-opening"]
    assert [entry["place"] for entry in late] == ["P014", "P015"]
    assert {entry["happened_at"] for entry in late} == {"2026-11-03T12:00:00Z"}
    assert {entry["received_at"] for entry in late} == {"2026-11-03T12:20:00Z"}
    office.engine.dispose()


def test_a_turn_that_fails_does_not_end_the_loop(caplog: object) -> None:
    turns: list[int] = []

    def work() -> None:
        turns.append(1)
        if len(turns) == 1:
            raise RuntimeError("the first turn fails")

    loop = Loop("test", 0.01, work)
    loop.start()
    until = time.monotonic() + 10
    while len(turns) < 3 and time.monotonic() < until:
        time.sleep(0.01)
    loop.stop()
    assert len(turns) >= 3


def test_a_loop_ends_when_it_is_told_to_and_does_not_wait_for_its_next_turn() -> None:
    loop = Loop("test", 3_600.0, lambda: None)
    loop.start()
    began = time.monotonic()
    loop.stop()
    assert time.monotonic() - began < 5
