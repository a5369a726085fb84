"""The demo starts everything, shows it, and leaves nothing behind."""

import os
import re
import signal
import time
from pathlib import Path

import httpx
import pytest

from tests.rehearsal.programs import children_of, environment, listens, running, runs, wait_for

DEMO = ("county.rehearsal.demo", "--places", "8", "--speed", "600", "--hours", "2", "--any-ports")
ADDRESS = re.compile(r"(Board|Endpoint) +(http://127\.0\.0\.1:(\d+))")


def addresses(says: Path) -> dict[str, tuple[str, int]]:
    return {name: (at, int(port)) for name, at, port in ADDRESS.findall(says.read_text())}


def get(url: str, key: str = "") -> httpx.Response:
    return httpx.get(url, headers={"Authorization": f"Bearer {key}"} if key else {}, timeout=10, trust_env=False)


@pytest.mark.parametrize("with_signal", [signal.SIGINT, signal.SIGTERM])
def test_it_shows_the_morning_and_stops_without_a_trace(tmp_path: Path, with_signal: signal.Signals) -> None:
    folder, says = tmp_path / "temporary", tmp_path / "said.txt"
    folder.mkdir()
    with running(*DEMO, env=environment(folder), says=says) as demo:
        wait_for(lambda: len(addresses(says)) == 2, demo, says)
        (board, board_port), (endpoint, port) = addresses(says)["Board"], addresses(says)["Endpoint"]
        assert "Sign in to the board" in httpx.get(f"{board}/sign-in", trust_env=False).text
        assert re.findall(r"sign in as +Noor Ellery +(\S{29})\s", says.read_text())
        assert re.findall(r"or as +Jo Marsh +(\S{29})\s", says.read_text())
        key = re.findall(r"desk's key +(pr_\S+)", says.read_text())[0]
        place_key = re.findall(r"own key +(pr_\S+)", says.read_text())[0]

        way_in = re.findall(r"Rover +(\S+)", says.read_text())[0]
        opened = httpx.get(way_in, follow_redirects=True, trust_env=False)
        assert (opened.status_code, "Rover R0001" in opened.text) == (200, True)

        def places_open() -> int:
            return int(get(f"{endpoint}/picture", key).json()["totals"]["open"])

        wait_for(lambda: get(f"{endpoint}/health").json()["seq"] > 20, demo, says)
        wait_for(lambda: places_open() >= 1, demo, says)
        note = {"key": "visitor-1", "place": "P00001", "kind": "note", "note": "Tried the key from the demo."}
        told = httpx.post(
            f"{endpoint}/reports", json=note, headers={"Authorization": f"Bearer {place_key}"}, trust_env=False
        )
        assert told.status_code == 201
        children = children_of(demo.pid)
        assert len(children) == 2, children
        demo.send_signal(with_signal)
        assert demo.wait(60) == 0, says.read_text()
    assert not any(runs(pid) for pid in children)
    assert not listens(port)
    assert not listens(board_port)
    assert list(folder.iterdir()) == []
    assert says.read_text().endswith("stopped: no program left running, nothing left on disk\n")


@pytest.mark.parametrize("module", ["ingest", "dashboard"])
def test_a_program_that_ends_by_itself_is_named_and_ends_the_demo(tmp_path: Path, module: str) -> None:
    folder, says = tmp_path / "temporary", tmp_path / "said.txt"
    folder.mkdir()
    with running(*DEMO, env=environment(folder), says=says) as demo:
        wait_for(lambda: len(addresses(says)) == 2, demo, says)
        children = children_of(demo.pid)
        victim = next(pid for pid, command in children.items() if command.endswith(f"-m {module}"))
        os.kill(victim, signal.SIGKILL)
        assert demo.wait(60) == 1, says.read_text()
    assert f"python -m {module} ended by itself" in says.read_text()
    until = time.monotonic() + 5
    while any(map(runs, children)) and time.monotonic() < until:
        time.sleep(0.05)
    assert not any(map(runs, children))
    assert list(folder.iterdir()) == []
