"""Reports acknowledged a second through the endpoint, beside endpoints that do nothing and beside SQLite alone.

All in one run on one machine: the rates swing with the disk and its neighbours, the ratios much less.
"""

import asyncio
import json
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory

from county.domain.roster import Device, Place, Roster
from county.store.engine import sqlite_library
from tests.bench.loud_client import Run, load, post
from tests.ingest.a_process import HERE, a_process, free_port
from tests.ingest.an_office import a_report

CONNECTIONS = 32
SECONDS = 2.0
TURNS = 2
TARGET = 0.4
PLACES = 300
COUNTY = Roster(
    places=tuple(Place(f"P{number:03d}", f"Place {number}") for number in range(PLACES)),
    devices=tuple(Device(f"SC-{number:03d}", f"P{number:03d}", "scanner") for number in range(PLACES)),
)


def main() -> int:
    """Measure in turns and print; 1 where the ledger holds fewer reports than were acknowledged."""
    alone, together = sqlite_alone(1), sqlite_alone(200)
    typed, bare, kept = Run(), Run(), Run()
    with noop_server() as port, TemporaryDirectory() as folder, a_process(Path(folder) / "data", roster=COUNTY) as own:
        for _ in range(TURNS):
            typed.add(measured(port, "/typed", ""))
            kept.add(measured(own.port, "/reports", own.desk_key))
            bare.add(measured(port, "/bare", ""))
        one = measured(own.port, "/reports", own.desk_key, connections=1)
        held = own.ask("GET", "/health")["seq"]
    acknowledged = kept.statuses.get(201, 0) + one.statuses.get(201, 0)
    print(f"SQLite alone, one row a commit          {alone:8,.0f} rows/s")
    print(f"SQLite alone, 200 rows a commit         {together:8,.0f} rows/s")
    print(_line("no-op, body checked by the framework", typed))
    print(_line("no-op, body only read", bare))
    print(_line("reports acknowledged after commit", kept))
    print(_line("the same over one connection", one))
    share = kept.a_second() / typed.a_second()
    print(f"acknowledged / no-op checked {share:.2f}   (target {TARGET:.2f}: {'met' if share >= TARGET else 'MISSED'})")
    print(f"acknowledged / no-op read    {kept.a_second() / bare.a_second():.2f}")
    print(f"acknowledged / SQLite alone, one row a commit {kept.a_second() / alone:.2f}")
    print(f"acknowledged {acknowledged:,}, in the ledger {held:,}; answers {kept.statuses}")
    return 0 if acknowledged <= held else 1


def measured(port: int, path: str, key: str, connections: int = CONNECTIONS, seconds: float = SECONDS) -> Run:
    """A run of good reports, each with a key of its own, after a short one to warm up."""
    numbers = count()
    run = f"{path}-{connections}-{time.monotonic_ns()}".replace("/", "")
    template = json.dumps(a_report(key="@", place="PLACE", device=None, protective_counter=None))

    def request() -> bytes:
        number = next(numbers)
        report = template.replace("@", f"{run}-{number}").replace("PLACE", f"P{number % PLACES:03d}")
        return post(path, report.encode(), key)

    return asyncio.run(load(port, request, connections, seconds))


def sqlite_alone(rows_a_commit: int, seconds: float = 2.0) -> float:
    """Rows a second into a table of the same form, durable at each commit, with nothing around it."""
    with TemporaryDirectory() as folder:
        database = sqlite_library().connect(str(Path(folder) / "alone.db"), isolation_level=None)
        database.execute("PRAGMA journal_mode=WAL")
        database.execute("PRAGMA synchronous=FULL")
        database.execute(
            "CREATE TABLE rows (seq INTEGER PRIMARY KEY, key TEXT, place TEXT, entry TEXT, UNIQUE (key, place))"
        )
        entry, numbers = json.dumps(a_report()), count()
        began, kept = time.perf_counter(), 0
        while time.perf_counter() - began < seconds:
            database.execute("BEGIN IMMEDIATE")
            rows = [(f"k-{next(numbers)}", "P014", entry) for _ in range(rows_a_commit)]
            database.executemany("INSERT INTO rows (key, place, entry) VALUES (?, ?, ?)", rows)
            database.execute("COMMIT")
            kept += rows_a_commit
        rate = kept / (time.perf_counter() - began)
        database.close()
        return rate


@contextmanager
def noop_server() -> Iterator[int]:
    """The endpoints that do nothing, in a process of their own, served as ours is."""
    port = free_port()
    command = [sys.executable, "-m", "uvicorn", "tests.bench.noop_app:app", "--port", str(port)]
    child = subprocess.Popen([*command, "--no-access-log", "--log-level", "warning", "--ws", "none"], cwd=HERE)
    try:
        _wait(port)
        yield port
    finally:
        child.terminate()
        child.wait(timeout=30)


def _wait(port: int) -> None:
    until = time.monotonic() + 30
    while time.monotonic() < until:
        try:
            asyncio.run(load(port, lambda: post("/bare", b"{}"), 1, 0.1))
        except OSError:
            time.sleep(0.1)
        else:
            return
    raise RuntimeError("the no-op server did not begin")


def _line(name: str, run: Run) -> str:
    times = (
        f"p50 {run.milliseconds(0.5):.1f} ms, p95 {run.milliseconds(0.95):.1f} ms, p99 {run.milliseconds(0.99):.1f} ms"
    )
    return f"{name:<39} {run.a_second():8,.0f} /s      {times}"


if __name__ == "__main__":
    sys.exit(main())
