"""Runs our own programs as people do, over a throw-away folder, and looks at what they leave running."""

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

HERE = Path(__file__).parents[2]


def environment(folder: Path, **more: str) -> dict[str, str]:
    """This environment without its own settings; every throw-away folder lies in `folder`."""
    plain = {name: value for name, value in os.environ.items() if not name.startswith("POLLRISE_")}
    return {**plain, "TMPDIR": str(folder), "PYTHONUNBUFFERED": "1", **more}


def run(*command: str, env: dict[str, str], patience: float = 120) -> subprocess.CompletedProcess[str]:
    """`python -m COMMAND...` to its end."""
    return subprocess.run(
        [sys.executable, "-m", *command],
        cwd=HERE,
        env=env,
        capture_output=True,
        text=True,
        timeout=patience,
        check=False,
    )


@contextmanager
def running(*command: str, env: dict[str, str], says: Path) -> Iterator[subprocess.Popen[bytes]]:
    """`python -m COMMAND...` while the block lasts; what it says goes to a file."""
    with says.open("wb") as out:
        process = subprocess.Popen([sys.executable, "-m", *command], cwd=HERE, env=env, stdout=out, stderr=out)
    try:
        yield process
    finally:
        if process.poll() is None:
            process.send_signal(signal.SIGTERM)
            process.wait(30)


def wait_for(holds: Callable[[], object], process: subprocess.Popen[bytes], says: Path, patience: float = 60) -> None:
    """Wait until something holds while the program runs, or fail with what it said."""
    until = time.monotonic() + patience
    while not holds():
        assert process.poll() is None, f"it ended with {process.returncode}: {says.read_text(errors='replace')}"
        assert time.monotonic() < until, f"waited in vain; it said: {says.read_text(errors='replace')}"
        time.sleep(0.05)


def children_of(pid: int) -> dict[int, str]:
    """The processes that this one started and that still run, with their command lines."""
    listed = subprocess.run(
        ["ps", "-A", "-o", "pid=,ppid=,command="], capture_output=True, text=True, check=True
    ).stdout
    rows = [line.split(None, 2) for line in listed.splitlines()]
    return {int(row[0]): row[2] for row in rows if len(row) == 3 and int(row[1]) == pid and "<defunct>" not in row[2]}


def runs(pid: int) -> bool:
    """Whether there is such a process."""
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return True


def listens(port: int) -> bool:
    """Whether somebody listens on this port."""
    with socket.socket() as probe:
        probe.settimeout(1)
        return probe.connect_ex(("127.0.0.1", port)) == 0


def free_port() -> int:
    """A port nobody listens on just now."""
    with socket.create_server(("127.0.0.1", 0)) as listener:
        return int(listener.getsockname()[1])
