"""`python -m ingest` as people run it: a process of its own with a data folder and a free port."""

import json
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from http.client import HTTPConnection
from pathlib import Path

from county.domain.roster import Roster
from county.domain.senders import Sender
from county.upkeep import issue_keys
from tests.an_office import ROSTER, set_up
from tests.ingest.an_office import Reply

HERE = Path(__file__).parents[2]
NOW = "2026-11-03T05:45:00-06:00x0"


@dataclass
class Process:
    """A running `python -m ingest`."""

    data: Path
    port: int
    place_key: str
    desk_key: str
    child: subprocess.Popen[str]
    said: str
    rest: str = ""

    @property
    def pid(self) -> int:
        return self.child.pid

    def ask(self, method: str, path: str, body: object = None, key: str = "") -> Reply:
        """One request on a connection of its own."""
        connection = HTTPConnection("127.0.0.1", self.port, timeout=30)
        headers = {"Authorization": f"Bearer {key}"} if key else {}
        try:
            connection.request(method, path, None if body is None else json.dumps(body), headers)
            answer = connection.getresponse()
            named = {name.lower(): value for name, value in answer.getheaders()}
            return Reply(answer.status, named, answer.read().decode())
        finally:
            connection.close()

    def end(self, with_signal: int = signal.SIGTERM) -> int:
        """Send a signal and wait; the exit code. What it said after its first line is in `rest`."""
        self.child.send_signal(with_signal)
        self.rest, _ = self.child.communicate(timeout=30)
        return self.child.returncode


@contextmanager
def a_process(data: Path, now: str = NOW, roster: Roster = ROSTER) -> Iterator[Process]:
    """A fresh office with the process running over it; ended by its own id afterwards."""
    office = set_up(data, now, roster)
    place_key, desk_key = issue_keys(office, [Sender.at_place("P014"), Sender.at_desk("Front desk")])
    office.engine.dispose()
    process = begin(data, place_key, desk_key, now)
    try:
        yield process
    finally:
        if process.child.returncode is None:
            process.end(signal.SIGKILL)


def begin(data: Path, place_key: str, desk_key: str, now: str = NOW) -> Process:
    """Start the process over a folder that is set up, and wait until it says that it has begun."""
    port = free_port()
    child = run(data, port, now)
    assert child.stdout is not None
    said = child.stdout.readline()
    process = Process(data, port, place_key, desk_key, child, said)
    until = time.monotonic() + 30
    while said and time.monotonic() < until:
        try:
            if process.ask("GET", "/health").status == 200:
                return process
        except OSError:
            time.sleep(0.05)
    child.kill()
    raise AssertionError(f"did not begin: {said}{child.communicate()}")


def run(
    data: Path,
    port: int,
    now: str = NOW,
    *,
    arguments: Sequence[str] = (),
    stderr: int = subprocess.DEVNULL,
    **more: str,
) -> subprocess.Popen[str]:
    """Start `python -m ingest` with none of this environment's own settings; `more` is by name without the prefix."""
    environment = {name: value for name, value in os.environ.items() if not name.startswith("POLLRISE_")}
    settings = {"DATA": str(data), "PORT": str(port), "NOW": now} | more
    return subprocess.Popen(
        [sys.executable, "-m", "ingest", *arguments],
        cwd=HERE,
        env=environment | {f"POLLRISE_{name}": value for name, value in settings.items()},
        stdout=subprocess.PIPE,
        stderr=stderr,
        text=True,
    )


def free_port() -> int:
    """A port nobody listens on just now."""
    with socket.create_server(("127.0.0.1", 0)) as listener:
        return int(listener.getsockname()[1])
