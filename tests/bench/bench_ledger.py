"""Appending to the ledger, reading it back and walking its chain, beside raw SQLite in the same run."""

import tempfile
import time
from collections.abc import Callable, Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path

from county.domain.entries import Entry, Kind
from county.settings import sqlite_url
from county.store import chain, ledger
from county.store.engine import make_engine, reading, sqlite_library, writing
from county.store.migrate import migrate

ENTRIES = 20_000
SINGLY = 1_000
BATCH = 200
TARGET = 5_000


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
    with tempfile.TemporaryDirectory() as folder:
        raw_batches = _raw(Path(folder) / "raw.db", made, BATCH)
        raw_singly = _raw(Path(folder) / "raw1.db", made[:SINGLY], 1)
        engine = make_engine(sqlite_url(Path(folder) / "day.db"))
        migrate(engine)
        batches = _rate(ENTRIES, lambda: _append(engine, made, BATCH))
        repeats = _rate(ENTRIES, lambda: _append(engine, made, BATCH))
        _say(f"append, {BATCH} a transaction", batches, raw_batches)
        print(f"  target {TARGET:,} a second: {'met' if batches >= TARGET else 'MISSED'}")
        _say("repeats recognised", repeats, raw_batches)
        with reading(engine) as connection:
            print(f"read {ENTRIES:,} entries: {ENTRIES / _rate(ENTRIES, lambda: ledger.read(connection)):.2f} s")
            print(f"walk the chain of {ENTRIES:,}: {ENTRIES / _rate(ENTRIES, lambda: chain.verify(connection)):.2f} s")
        engine.dispose()
        single = make_engine(sqlite_url(Path(folder) / "single.db"))
        migrate(single)
        _say("append, 1 a transaction", _rate(SINGLY, lambda: _append(single, made[:SINGLY], 1)), raw_singly)
        single.dispose()


def _append(engine: object, made: Sequence[Entry], size: int) -> None:
    for start in range(0, len(made), size):
        with writing(engine) as connection:  # type: ignore[arg-type]
            ledger.append(connection, made[start : start + size])


def _raw(file: Path, made: Sequence[Entry], size: int) -> float:
    """Rows a second of a plain insert-and-commit loop: same library, same file system, same durability."""
    connection = sqlite_library().connect(str(file), isolation_level=None)
    connection.execute("PRAGMA journal_mode=WAL")
    connection.execute("PRAGMA synchronous=FULL")
    connection.execute("CREATE TABLE rows (seq INTEGER PRIMARY KEY, key TEXT UNIQUE, row TEXT)")
    rows = [(None, entry.key, "x" * 500) for entry in made]

    def insert() -> None:
        for start in range(0, len(rows), size):
            connection.execute("BEGIN IMMEDIATE")
            connection.executemany("INSERT INTO rows VALUES (?, ?, ?)", rows[start : start + size])
            connection.execute("COMMIT")

    rate = _rate(len(rows), insert)
    connection.close()
    return rate


def _rate(number: int, do: Callable[[], object]) -> float:
    began = time.perf_counter()
    do()
    return number / (time.perf_counter() - began)


def _say(what: str, rate: float, raw: float) -> None:
    print(f"{what}: {rate:,.0f} a second; raw insert-and-commit {raw:,.0f}; ratio {rate / raw:.2f}")


if __name__ == "__main__":
    main()
