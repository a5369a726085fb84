"""A process killed while it appends: what was acknowledged is there, nothing half-kept is."""

import os
import signal

import pytest
from sqlalchemy import Engine

from county.store import ledger
from county.store.engine import writing
from tests.store.an_entry import an_entry
from tests.store.test_two_writers import appending, in_order


@pytest.mark.skipif(os.name != "posix", reason="this system has no SIGKILL")
@pytest.mark.parametrize("acknowledged", [1, 40, 333])
def test_a_kill_loses_no_acknowledged_entry(engine: Engine, database_url: str, acknowledged: int) -> None:
    process = appending(database_url, "P014", batches=100_000, size=7)
    assert process.stdout is not None
    told = [process.stdout.readline() for _ in range(acknowledged)]
    process.send_signal(signal.SIGKILL)
    rest = process.stdout.read().splitlines(keepends=True)
    process.wait(timeout=30)
    process.stdout.close()
    # a line cut off by the kill was not told
    lines = [line.split() for line in (*told, *rest) if line.endswith("\n")]
    held = in_order(engine)
    assert {(key, int(seq)) for key, seq in lines} <= set(held)
    assert len(held) % 7 == 0
    assert [seq for _, seq in held] == list(range(1, len(held) + 1))
    with writing(engine) as connection:
        assert ledger.append(connection, [an_entry("after")])[0].seq == len(held) + 1
