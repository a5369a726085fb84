"""The clock: each thing that time makes true is raised once, stamped when it became true, whoever and however often."""

import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from county import desk
from county.domain.going_round import Work
from county.following import Following
from county.signs_of_life import still, turns
from ingest import loops
from ingest.clock_loop import turn
from ingest.loops import Loop, signs_of_life
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


@contextmanager
def going_round(work: Callable[[], object], timer: Callable[[], float]) -> Iterator[Loop]:
    loop = Loop(Work.CLOCK, 0.01, work, timer)
    loop.start()
    yield loop
    loop.stop()


def wait_until(true: Callable[[], bool]) -> None:
    until = time.monotonic() + 10
    while not true() and time.monotonic() < until:
        time.sleep(0.01)
    assert true()


def test_a_loop_that_comes_round_does_not_stand_still() -> None:
    now = [0.0]
    with going_round(lambda: None, lambda: now[0]) as loop:
        now[0] = 3_600.0
        wait_until(lambda: loop.since_turn.total_seconds() == 0)
        assert not loop.stands_still


@pytest.mark.parametrize("fails_with", [RuntimeError("each turn fails"), SystemExit("its thread ends")])
@pytest.mark.filterwarnings("ignore::pytest.PytestUnhandledThreadExceptionWarning")
def test_a_loop_that_fails_at_every_turn_or_has_ended_stands_still(fails_with: BaseException) -> None:
    now, turns = [0.0], []

    def work() -> None:
        turns.append(1)
        raise fails_with

    with going_round(work, lambda: now[0]) as loop:
        wait_until(lambda: bool(turns))
        now[0] = 60.0
        assert not loop.stands_still, "a minute is no more than slow"
        now[0] = 60.5
        assert loop.stands_still


def test_a_loop_that_hangs_does_not_keep_the_endpoint_from_being_restarted(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(loops, "ENDS_WITHIN", 0.05)
    hangs = threading.Event()
    with going_round(lambda: hangs.wait(10), time.monotonic):
        pass  # it is stopped here
    assert not hangs.is_set()
    hangs.set()


def test_a_loop_that_hangs_stands_still_until_its_turn_ends() -> None:
    now, hangs, begun = [0.0], threading.Event(), threading.Event()

    def work() -> None:
        begun.set()
        hangs.wait(10)

    with going_round(work, lambda: now[0]) as loop:
        assert begun.wait(10)
        now[0] = 61.0
        assert loop.stands_still
        hangs.set()
        wait_until(lambda: not loop.stands_still)


def test_the_signs_of_life_tell_the_board_when_each_loop_came_round(tmp_path: Path) -> None:
    office = set_up(tmp_path / "data", AFTER_OPENING)
    now = [0.0]
    every = [Loop(name, 1.0, lambda: None, lambda: now[0]) for name in Work if name is not Work.ENDPOINT]
    now[0] = 30.0
    signs = signs_of_life(office, every)
    signs.start()
    wait_until(lambda: len(turns(office)) == len(Work))
    signs.stop()
    # real time, though the office's clock stands still: half a minute ago, within what a slow machine may take
    ago = datetime.now(UTC) - turns(office)[Work.CLOCK]
    assert turns(office)[Work.ENDPOINT] - turns(office)[Work.CLOCK] == timedelta(seconds=30)
    assert timedelta(seconds=30) <= ago < timedelta(seconds=50)
    assert still(turns(office)) == {}
    office.engine.dispose()


def test_a_loop_ends_when_it_is_told_to_and_does_not_wait_for_its_next_turn() -> None:
    loop = Loop("test", 3_600.0, lambda: None)
    loop.start()
    began = time.monotonic()
    loop.stop()
    assert time.monotonic() - began < 5
