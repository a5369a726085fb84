"""`python -m dashboard` as people start and stop it."""

import signal
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from tests.dashboard.a_running_board import HERE, a_running_board, environment
from tests.ingest.a_process import free_port


def run(*arguments: str, **settings: str) -> subprocess.CompletedProcess[str]:
    """Start it where it cannot begin, and wait for what it says."""
    return subprocess.run(
        [sys.executable, "-m", "dashboard", *arguments],
        cwd=HERE,
        env=environment(settings),
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


def test_it_says_what_it_is_when_asked() -> None:
    asked = run("--help")
    assert asked.returncode == 0
    assert "POLLRISE_BOARD_PORT" in asked.stdout


def test_a_port_in_use_is_one_clear_line(tmp_path: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        refused = run(BOARD_PORT=str(port), DATA=str(tmp_path))
    assert refused.returncode == 2
    assert refused.stderr.splitlines() == [f"POLLRISE_BOARD_PORT: port {port} is in use"]


def test_a_missing_plan_is_one_clear_line(tmp_path: Path) -> None:
    refused = run(DATA=str(tmp_path / "nowhere"), BOARD_PORT=str(free_port()))
    assert refused.returncode == 2
    assert len(refused.stderr.splitlines()) == 1
    assert "county init" in refused.stderr


@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGTERM])
def test_it_says_where_it_is_and_stops_cleanly_with_a_page_open(tmp_path: Path, how: signal.Signals) -> None:
    with (
        a_running_board(tmp_path / "data", places=3) as running,
        socket.create_connection(("127.0.0.1", running.port)),
    ):
        running.board.send_signal(how)
        said, _ = running.board.communicate(timeout=20)
    assert running.board.returncode == 0
    assert said.splitlines() == [
        f"Board on {running.address}; people sign in with their name and password. Ctrl-C stops it.",
        "The board has stopped.",
    ]
