"""`python -m ingest` as a process: it begins, says where, ends cleanly, and killed it loses nothing acknowledged."""

import json
import signal
import socket
import subprocess
import threading
import time
from http.client import HTTPConnection, HTTPException
from pathlib import Path

import pytest

from tests.an_office import PLAN_TEXT
from tests.ingest.a_process import NOW, Process, a_process, begin, free_port, run
from tests.ingest.an_office import a_report

SENDERS = 8
KILLS = 3


def test_it_says_in_one_line_where_it_listens_and_by_which_clock(tmp_path: Path) -> None:
    with a_process(tmp_path / "data") as process:
        assert f"http://127.0.0.1:{process.port}" in process.said
        assert str(tmp_path / "data") in process.said
        assert "NOT the real clock" in process.said
        assert process.end() == 0
        assert process.rest == ""


@pytest.mark.parametrize("with_signal", [signal.SIGINT, signal.SIGTERM])
def test_told_to_stop_it_ends_at_once_and_well(tmp_path: Path, with_signal: signal.Signals) -> None:
    with a_process(tmp_path / "data") as process:
        assert process.ask("POST", "/reports", a_report(), process.place_key).status == 201
        began = time.monotonic()
        assert process.end(with_signal) == 0
        assert time.monotonic() - began < 10


def test_a_port_in_use_is_one_clear_line(tmp_path: Path) -> None:
    with a_process(tmp_path / "data") as process:
        code, said = failed(tmp_path / "data", process.port)
    assert code == 2
    assert said.count("\n") == 1
    assert f"127.0.0.1:{process.port}" in said


def test_a_missing_plan_or_folder_or_a_bad_setting_is_one_clear_line(tmp_path: Path) -> None:
    assert failed(tmp_path, free_port())[0] == 2
    assert "plan.toml" in failed(tmp_path, free_port())[1]
    (tmp_path / "plan.toml").write_text(PLAN_TEXT.replace('zone = "America/Chicago"', 'zone = "Nowhere"'))
    assert "Nowhere" in failed(tmp_path, free_port())[1]
    (tmp_path / "plan.toml").write_text(PLAN_TEXT)
    assert "POLLRISE_PORT" in failed(tmp_path, 99_999)[1]
    assert "POLLRISE_NOW" in failed(tmp_path, free_port(), NOW="noon")[1]
    database = "postgresql+psycopg://nobody@127.0.0.1:1/none"
    assert "POLLRISE_DATABASE_URL" in failed(tmp_path, free_port(), DATABASE_URL=database)[1]


def test_help_is_given_without_an_office() -> None:
    child = run(Path("/nowhere"), 1, arguments=("--help",))
    out, _ = child.communicate(timeout=60)
    assert child.returncode == 0
    assert "POLLRISE_" in out


def test_a_dropped_file_and_the_clock_are_seen_at_the_endpoint(tmp_path: Path) -> None:
    with a_process(tmp_path / "data", "2026-11-03T06:20:00-06:00x0") as process:
        inbox = tmp_path / "data" / "drop" / "in"
        (inbox / "morning.csv").write_text("key,place,kind,note\nn-1,P014,note,all well\n")
        until = time.monotonic() + 20
        while time.monotonic() < until and list(inbox.iterdir()):
            time.sleep(0.1)
        entries = process.ask("GET", "/ledger", key=process.desk_key).body
        assert [entry["door"] for entry in entries if entry["key"] == "n-1"] == ["drop"]
        assert [case["place"] for case in cases(process) if case["exception"] == "late-opening"] == ["P014", "P015"]


def test_while_a_long_file_is_taken_in_others_are_answered(tmp_path: Path) -> None:
    with a_process(tmp_path / "data") as process:
        drop = tmp_path / "data" / "drop"
        rows = "".join(f"k-{n},P014,note,line {n}\n" for n in range(20_000))
        (drop / "in" / "long.csv").write_text(f"key,place,kind,note\n{rows}")
        answered, until = 0, time.monotonic() + 120
        while not (drop / "done" / "long.csv").exists() and time.monotonic() < until:
            began = time.monotonic()
            assert process.ask("POST", "/reports", a_report(key=f"x-{answered}"), process.place_key).status == 201
            assert process.ask("GET", "/picture", key=process.place_key)["places"][0]["last_heard_at"]
            assert time.monotonic() - began < 10
            answered += 1
            time.sleep(0.3)
        assert answered > 2
        assert process.ask("GET", "/health")["seq"] >= 20_001 + answered


def test_killed_again_and_again_in_the_middle_of_reports_it_keeps_all_it_acknowledged(tmp_path: Path) -> None:
    acknowledged: set[str] = set()
    with a_process(tmp_path / "data") as process:
        running = process
        for round_ in range(KILLS):
            acknowledged |= reports_until_killed(running, round_)
            running = begin(process.data, process.place_key, process.desk_key)
        entries = held(running)
        code = running.end()
    assert len(acknowledged) > 10 * KILLS
    keys = [entry["key"] for entry in entries]
    assert acknowledged <= set(keys)
    assert len(keys) == len(set(keys))
    assert [entry["seq"] for entry in entries] == list(range(1, len(entries) + 1))
    assert code == 0


def test_a_report_whose_answer_was_lost_is_already_held_when_sent_again(tmp_path: Path) -> None:
    with a_process(tmp_path / "data") as process:
        report = a_report()
        assert process.ask("POST", "/reports", report, process.place_key).status == 201
        process.end(signal.SIGKILL)
        again = begin(process.data, process.place_key, process.desk_key)
        assert again.ask("POST", "/reports", report, process.place_key).status == 200
        assert again.end() == 0


def test_what_was_sent_before_the_end_is_answered(tmp_path: Path) -> None:
    with a_process(tmp_path / "data") as process:
        body = json.dumps({"reports": [a_report(key=f"k-{n}") for n in range(500)]}).encode()
        head = f"POST /reports HTTP/1.1\r\nHost: x\r\nAuthorization: Bearer {process.place_key}\r\n"
        with socket.create_connection(("127.0.0.1", process.port), timeout=30) as connection:
            connection.sendall(f"{head}Content-Length: {len(body)}\r\n\r\n".encode() + body)
            time.sleep(0.05)
            code = process.end()
            answer = connection.recv(64)
        assert answer.startswith(b"HTTP/1.1 200 ")
        assert code == 0


def reports_until_killed(process: Process, round_: int) -> set[str]:
    """Several senders report as fast as they can until the process is killed; the keys that were acknowledged."""
    acknowledged: set[str] = set()

    def send(sender: int) -> None:
        connection = HTTPConnection("127.0.0.1", process.port, timeout=10)
        headers = {"Authorization": f"Bearer {process.desk_key}"}
        try:
            for number in range(1_000_000):
                key = f"r{round_}-s{sender}-{number}"
                connection.request("POST", "/reports", json.dumps(a_report(key=key)), headers)
                answer = connection.getresponse()
                if answer.status == 201 and json.loads(answer.read())["outcome"] == "kept":
                    acknowledged.add(key)
        except (OSError, HTTPException, ValueError):
            return
        finally:
            connection.close()

    senders = [threading.Thread(target=send, args=(sender,)) for sender in range(SENDERS)]
    for sender in senders:
        sender.start()
    time.sleep(1.0)
    process.end(signal.SIGKILL)
    for sender in senders:
        sender.join()
    return acknowledged


def held(process: Process) -> list[dict[str, object]]:
    """Every entry of the ledger, page by page."""
    entries: list[dict[str, object]] = []
    while page := process.ask("GET", f"/ledger?after={len(entries)}&limit=5000", key=process.desk_key).body:
        entries.extend(page)
    return entries


def cases(process: Process) -> list[dict[str, object]]:
    """The open cases, in the order of their places."""
    found: list[dict[str, object]] = process.ask("GET", "/cases", key=process.desk_key).body
    return sorted(found, key=lambda case: str(case["place"]))


def failed(data: Path, port: int, **settings: str) -> tuple[int, str]:
    """The exit code and what was said on stderr where it cannot begin."""
    child = run(data, port, settings.pop("NOW", NOW), stderr=subprocess.PIPE, **settings)
    _, said = child.communicate(timeout=60)
    return child.returncode, said
