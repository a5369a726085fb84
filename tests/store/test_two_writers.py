"""Two who write at once: every entry is kept, the numbers have no gap, the chain holds."""

import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from sqlalchemy import Engine, make_url

from county.domain.receipts import Outcome, Receipt
from county.store import chain, ledger
from county.store.engine import make_engine, reading, writing
from county.store.migrate import migrate
from tests.store.an_entry import an_entry, entries

ROOT = Path(__file__).parents[2]


def appending(url: str, name: str, batches: int, size: int) -> subprocess.Popen[str]:
    command = [sys.executable, "-m", "tests.store.appender", url, name, str(batches), str(size)]
    return subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True)


def in_order(engine: Engine) -> list[tuple[str, int]]:
    """Every entry's key and number, after the chain was found whole."""
    with reading(engine) as connection:
        assert chain.verify(connection) is None
        return [(entry.key, entry.seq) for entry in ledger.read(connection)]


def test_two_processes_lose_nothing_and_leave_no_gap(engine: Engine, database_url: str) -> None:
    processes = [appending(database_url, name, batches=30, size=5) for name in ("A", "B")]
    said = [process.communicate(timeout=120)[0].split() for process in processes]
    assert [process.returncode for process in processes] == [0, 0]
    told = {key: int(seq) for words in said for key, seq in zip(words[::2], words[1::2], strict=True)}
    assert in_order(engine) == sorted(told.items(), key=lambda item: item[1])
    assert sorted(told.values()) == list(range(1, 301))


def test_four_threads_lose_nothing_and_leave_no_gap(engine: Engine) -> None:
    def append(name: str) -> None:
        for batch in range(10):
            with writing(engine) as connection:
                ledger.append(connection, entries(3, f"{name}-{batch}", place=name))

    with ThreadPoolExecutor(4) as threads:
        list(threads.map(append, "ABCD"))
    assert [seq for _, seq in in_order(engine)] == list(range(1, 121))


def test_the_same_report_from_many_threads_is_kept_once(engine: Engine) -> None:
    def append(_: int) -> Receipt:
        with writing(engine) as connection:
            return ledger.append(connection, [an_entry()])[0]

    with ThreadPoolExecutor(6) as threads:
        receipts = list(threads.map(append, range(12)))
    assert sorted(receipt.outcome for receipt in receipts) == [Outcome.ALREADY_HELD] * 11 + [Outcome.KEPT]
    assert {receipt.seq for receipt in receipts} == {1}


def test_a_reader_sees_one_state_while_another_writes(engine: Engine) -> None:
    with writing(engine) as connection:
        ledger.append(connection, entries(2))
    with reading(engine) as before:
        assert ledger.head(before)[0] == 2
        with writing(engine) as connection:
            ledger.append(connection, [an_entry("meanwhile")])
        assert ledger.head(before)[0] == 2
    with reading(engine) as after:
        assert ledger.head(after)[0] == 3


def test_many_who_migrate_at_once_make_the_tables_once(empty_url: str) -> None:
    engines = [make_engine(empty_url) for _ in range(5)]
    with ThreadPoolExecutor(5) as threads:
        made = list(threads.map(migrate, engines))
    assert sorted(made) == [False] * 4 + [True]
    with writing(engines[0]) as connection:
        ledger.append(connection, [an_entry()])
    for engine in engines:
        engine.dispose()


def test_two_processes_that_migrate_at_once_both_go_on(empty_url: str) -> None:
    said = "from county.store.migrate import migrate; from county.store.engine import make_engine"
    command = [sys.executable, "-c", f"{said}; import sys; print(migrate(make_engine(sys.argv[1])))", empty_url]
    both = [subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True) for _ in range(2)]
    assert sorted(process.communicate(timeout=60)[0].strip() for process in both) == ["False", "True"]
    assert [process.returncode for process in both] == [0, 0]
    assert make_url(empty_url).database
