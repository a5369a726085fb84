"""Notices as people get them: from two processes of `python -m ingest` over one office, to the console or a webhook."""

import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from county.domain.senders import Sender
from county.upkeep import issue_keys
from tests.an_office import PLAN_TEXT, set_up
from tests.ingest.a_process import Process, begin
from tests.notices.receivers import a_webhook, until

LADDER = """
[[ladder]]
effect = "impaired"
after = "0m"
unless = "acknowledged"
tell = ["lead", "counsel"]

[[person]]
name = "Ada Rill"
roles = ["lead"]
notice = "{address}"
"""
JAM = {
    "key": "jam-1",
    "place": "P014",
    "kind": "exception",
    "exception": "scanner-jam",
    "device": "SC-0141",
    "happened_at": "2026-11-03T05:44:00-06:00",
}


@contextmanager
def processes(data: Path, address: str, number: int = 1) -> Iterator[list[Process]]:
    """So many processes over one office whose lead is behind this address."""
    office = set_up(data)
    keys = issue_keys(office, [Sender.at_place("P014"), Sender.at_desk("Front desk")])
    office.engine.dispose()
    (data / "plan.toml").write_text(PLAN_TEXT + LADDER.format(address=address))
    running: list[Process] = []
    try:
        running.extend(begin(data, *keys) for _ in range(number))
        yield running
    finally:
        for process in running:
            if process.child.poll() is None:
                process.child.kill()
                process.child.communicate()


def told(process: Process) -> list[str]:
    cases = process.ask("GET", "/cases", key=process.desk_key).body
    return [line for case in cases if case["exception"] == "scanner-jam" for line in case["told"]]


def test_two_processes_tell_the_lead_once_within_seconds_and_the_case_says_so(tmp_path: Path) -> None:
    with a_webhook() as hook, processes(tmp_path / "data", hook.address, number=2) as (one, other):
        assert one.ask("POST", "/reports", JAM, one.place_key).status == 201
        until(lambda: hook.taken, 15)
        assert hook.taken[0]["title"] == "REHEARSAL: Voting impaired: Scanner jam, SC-0141, P014 Mill Creek School"
        until(lambda: "lead (Ada Rill) by webhook 05:45, arrived" in told(other), 15)
        assert "nobody on shift for counsel 05:45" in told(other)
        time.sleep(1.5)
        assert len(hook.tried) == 1
        assert [process.end() for process in (one, other)] == [0, 0]


def test_the_console_shows_what_nobody_has_another_channel_for(tmp_path: Path) -> None:
    with processes(tmp_path / "data", "console") as [process]:
        process.ask("POST", "/reports", JAM, process.place_key)
        until(lambda: "lead (Ada Rill) by console 05:45, arrived" in told(process), 15)
        assert process.end() == 0
        assert "REHEARSAL: Voting impaired: Scanner jam, SC-0141, P014 Mill Creek School\n" in process.rest


def test_a_channel_that_hangs_keeps_the_process_neither_from_working_nor_from_ending(tmp_path: Path) -> None:
    with a_webhook() as hook, processes(tmp_path / "data", hook.address) as [process]:
        hook.answers = lambda number: 120.0
        process.ask("POST", "/reports", JAM, process.place_key)
        until(lambda: hook.tried, 15)
        assert process.ask("POST", "/reports", JAM | {"key": "jam-2"}, process.place_key).status == 201
        began = time.monotonic()
        assert process.end() == 0
        assert time.monotonic() - began < 15
