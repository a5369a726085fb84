"""Programs started beside ours: waited for until they answer, watched, and stopped cleanly."""

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import httpx

from county.errors import PollriseError
from county.settings import Settings, as_environ

PATIENCE = 60.0
TIME_TO_STOP = 15.0


class ChildDied(PollriseError):
    """A program that was started beside ours ended by itself; names it."""


@dataclass(frozen=True, slots=True)
class Child:
    """One program of ours, `python -m MODULE`, and the address where it answers when it is ready."""

    module: str
    process: subprocess.Popen[bytes]
    ready_at: str
    says: Path

    @classmethod
    def start(cls, module: str, settings: Settings, ready_at: str, says: Path) -> "Child":
        """Start it with these settings; what it says goes to the file `says`.

        It has a process group of its own, so that Ctrl-C reaches it only through us and in our order.
        """
        with says.open("ab") as out:
            process = subprocess.Popen(
                [sys.executable, "-m", module],
                env={**os.environ, **as_environ(settings)},
                stdin=subprocess.DEVNULL,
                stdout=out,
                stderr=subprocess.STDOUT,
                start_new_session=True,
            )
        return cls(module, process, ready_at, says)

    def wait_until_ready(self, patience: float = PATIENCE) -> None:
        """Wait until it answers. Raises ChildDied where it ends or stays silent for `patience` seconds."""
        until = time.monotonic() + patience
        while not answers(self.ready_at):
            self.must_run()
            if time.monotonic() > until:
                raise ChildDied(f"python -m {self.module} did not answer at {self.ready_at} within {patience:.0f} s")
            time.sleep(0.1)
        # an answer while ours has ended is somebody else's
        self.must_run()

    def must_run(self) -> None:
        """Raises ChildDied where it has ended by itself."""
        code = self.process.poll()
        if code is not None:
            last = (self.says.read_text(errors="replace").strip().splitlines() or ["it said nothing"])[-1]
            raise ChildDied(f"python -m {self.module} ended by itself with exit code {code}: {last[:300]}")

    def stop(self) -> None:
        """Ask it to stop, and end its whole group if it does not within some seconds."""
        self._signal(signal.SIGTERM)
        try:
            self.process.wait(TIME_TO_STOP)
        except subprocess.TimeoutExpired:
            self._signal(getattr(signal, "SIGKILL", signal.SIGTERM))
            self.process.wait()
        # whatever it had started itself has no business to go on
        self._signal(getattr(signal, "SIGKILL", signal.SIGTERM))

    def _signal(self, number: int) -> None:
        if sys.platform == "win32":
            if self.process.poll() is None:
                self.process.terminate()
            return
        try:
            os.killpg(self.process.pid, number)
        except (ProcessLookupError, PermissionError):
            return


def run_to_end(command: Sequence[str], settings: Settings) -> tuple[int, str]:
    """Run `python -m COMMAND...` with these settings to its end: its exit code, and what it said."""
    done = subprocess.run(
        [sys.executable, "-m", *command],
        env={**os.environ, **as_environ(settings)},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        check=False,
    )
    return done.returncode, done.stdout.strip()


def address(host: str, port: int) -> str:
    """Where a program of ours is reached."""
    return f"http://[{host}]:{port}" if ":" in host else f"http://{host}:{port}"


def answers(url: str) -> bool:
    """Whether something answers there with success."""
    try:
        return httpx.get(url, timeout=2.0, trust_env=False).is_success
    except httpx.HTTPError:
        return False


def free_port(host: str, wanted: int = 0) -> int:
    """The wanted port where nobody listens on it, else any that is free."""
    for port in (wanted, 0):
        with socket.socket() as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                probe.bind((host, port))
            except OSError:
                continue
            return int(probe.getsockname()[1])
    raise PollriseError(f"no free port on {host}")
