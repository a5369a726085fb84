"""Appending to the ledger, reading it back and walking its chain, beside raw SQLite in the same run."""

import tempfile
import time
from collections.abc import Callable, Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path

from sqlalchemy import Engine

from county.domain.entries import Entry, Kind
from county.settings import sqlite_url
from county.store import chain, ledger
from county.store.engine import make_engine, reading, sqlite_library, writing
from county.store.migrate import migrate

ENTRIES = 20_000
SINGLY = 1_000
BATCH = 200
TARGET = 5_000
ROUNDS = 10

Keep = Callable[[Sequence[Entry]], None]


def made_up(number: int) -> list[Entry]:
    """Zero reports from 2,000 places, about 300 bytes each."""
    opening = datetime(2026, 11, 3, 12, tzinfo=UTC)
    return [
        Entry(
            key=f"8d0c-{n}",
            kind=Kind.STEP,
            place=f"P{n % 2_000:04}",
            happened_at=opening + timedelta(seconds=n),
            received_at=opening + timedelta(seconds=n, milliseconds=412),
            by=f"P{n % 2_000:04}",
            door="endpoint",
            sender=f"place:P{n % 2_000:04}",
            fields={
                "step": "zero-report",
                "device": f"SC-{n % 2_000:04}",
                "public_counter": 0,
                "protective_counter": 48_210,
                "copies": 3,
                "signers": 3,
                "note": "tape 2 reprinted",
            },
        )
        for n in range(number)
    ]


def main() -> None:
    made = made_up(ENTRIES)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        engine = _fresh(folder / "day.db")
        kept = _side_by_side(f"append, {BATCH} a transaction", _appends(engine), _raw(folder / "raw.db"), made, BATCH)
        print(f"  target {TARGET:,} a second: {'met' if kept >= TARGET else 'MISSED'}")
        _side_by_side("repeats recognised", _appends(engine), _raw(folder / "raw2.db"), made, BATCH)
        with reading(engine) as connection:
            print(f"read {ENTRIES:,} entries: {_seconds(lambda: ledger.read(connection)):.2f} s")
            print(f"walk the chain of {ENTRIES:,} entries: {_seconds(lambda: chain.verify(connection)):.2f} s")
        engine.dispose()
        single = _fresh(folder / "single.db")
        _side_by_side("append, 1 a transaction", _appends(single), _raw(folder / "raw1.db"), made[:SINGLY], 1)
        single.dispose()


def _fresh(file: Path) -> Engine:
    engine = make_engine(sqlite_url(file))
    migrate(engine)
    return engine


def _side_by_side(what: str, ours: Keep, raw: Keep, made: Sequence[Entry], size: int) -> float:
    """Both keep the same in turns, a tenth at a time, since the disk's mood changes within seconds; our rate."""
    part = len(made) // ROUNDS
    seconds = [0.0, 0.0]
    for start in range(0, len(made), part):
        for lane, keep in enumerate((ours, raw)):
            batches = [made[n : min(n + size, start + part)] for n in range(start, start + part, size)]
            seconds[lane] += _seconds(lambda keep=keep, batches=batches: [keep(batch) for batch in batches])  # type: ignore[misc]
    rates = [len(made) / spent for spent in seconds]
    print(f"{what}: {rates[0]:,.0f} a second; raw insert-and-commit {rates[1]:,.0f}; ratio {rates[0] / rates[1]:.2f}")
    return rates[0]


def _appends(engine: Engine) -> Keep:
    def keep(batch: Sequence[Entry]) -> None:
        with writing(engine) as connection:
            ledger.append(connection, batch)

    return keep


def _raw(file: Path) -> Keep:
    """A plain insert and commit: same library, same file system, same durability, a row of about the same size."""
    connection = sqlite_library().connect(str(file), isolation_level=None)
    for statement in ("PRAGMA journal_mode=WAL", "PRAGMA synchronous=FULL"):
        connection.execute(statement)
    connection.execute("CREATE TABLE rows (seq INTEGER PRIMARY KEY, key TEXT UNIQUE, row TEXT)")

    def keep(batch: Sequence[Entry]) -> None:
        connection.execute("BEGIN IMMEDIATE")
        connection.executemany("INSERT INTO rows VALUES (NULL, ?, ?)", [(entry.key, "x" * 900) for entry in batch])
        connection.execute("COMMIT")

    return keep


def _seconds(do: Callable[[], object]) -> float:
    began = time.perf_counter()
    do()
    return time.perf_counter() - began


if __name__ == "__main__":
    main()
