"""A body without end: refused as soon as it is too large, not read to its end, and never held in memory."""

import json
import socket
from pathlib import Path

import pytest

from ingest.body import LARGEST_BODY
from tests.ingest.a_process import Process, a_process
from tests.ingest.an_office import House, a_report

GIGABYTE = 1024**3
PIECE = b"x" * 65_536


def test_a_body_said_to_be_too_large_is_refused_before_any_of_it_is_sent(shared_house: House) -> None:
    head = _head(shared_house.port, shared_house.place_key, f"Content-Length: {GIGABYTE}")
    with socket.create_connection(("127.0.0.1", shared_house.port), timeout=10) as connection:
        connection.sendall(head)
        answer = connection.recv(65_536)
    assert answer.startswith(b"HTTP/1.1 413 ")
    assert b"connection: close" in answer.lower()


def test_a_length_that_no_file_has_is_too_large_too(shared_house: House) -> None:
    head = _head(shared_house.port, shared_house.place_key, "Content-Length: " + "9" * 18)
    with socket.create_connection(("127.0.0.1", shared_house.port), timeout=10) as connection:
        connection.sendall(head)
        assert connection.recv(65_536).startswith(b"HTTP/1.1 413 ")


def test_a_body_just_small_enough_is_read(shared_house: House) -> None:
    body = json.dumps(a_report()).encode()
    assert shared_house.send(b" " * (LARGEST_BODY - len(body)) + body).status == 201
    reply = shared_house.send(b" " * (LARGEST_BODY - len(body) + 1) + body)
    assert reply.status == 413
    assert reply.fields == ["body"]


@pytest.mark.parametrize("key", ["good", "wrong"])
def test_a_gigabyte_in_pieces_is_neither_read_nor_held(tmp_path: Path, key: str) -> None:
    with a_process(tmp_path / "data") as process:
        before = _memory(process)
        sent, answer = _pour(process, process.place_key if key == "good" else "pr_nobody")
        assert answer.startswith(b"HTTP/1.1 413 " if key == "good" else b"HTTP/1.1 401 ")
        assert sent < GIGABYTE / 10
        assert _memory(process) - before < 48 * 1024 * 1024
        assert process.ask("GET", "/health").status == 200


def _pour(process: Process, key: str) -> tuple[int, bytes]:
    """Send up to a gigabyte as chunks until the endpoint has had enough; how much went, and what came back."""
    sent = 0
    with socket.create_connection(("127.0.0.1", process.port), timeout=20) as connection:
        connection.sendall(_head(process.port, key, "Transfer-Encoding: chunked"))
        try:
            while sent < GIGABYTE:
                connection.sendall(b"%x\r\n%s\r\n" % (len(PIECE), PIECE))
                sent += len(PIECE)
        except (BrokenPipeError, ConnectionResetError):
            pass
        return sent, connection.recv(65_536)


def _head(port: int, key: str, length: str) -> bytes:
    lines = ("POST /reports HTTP/1.1", f"Host: 127.0.0.1:{port}", f"Authorization: Bearer {key}", length, "", "")
    return "\r\n".join(lines).encode()


def _memory(process: Process) -> int:
    """The most memory the process has held so far, in bytes, where the system tells it."""
    status = Path(f"/proc/{process.pid}/status")
    if not status.exists():
        pytest.skip("this system does not tell a process's memory in /proc")
    lines = dict(line.split(":", 1) for line in status.read_text().splitlines() if ":" in line)
    return int(lines["VmHWM"].split()[0]) * 1024
