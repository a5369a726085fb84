"""The sender tries again with the same keys, sends batches when it is behind, and drops whole files."""

import csv
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

import httpx
import pytest

from county.clock import Clock
from county.rehearsal import sender as sending
from county.rehearsal.playing import play
from county.rehearsal.sender import NotSent, Sender
from county.rehearsal.sent import DROP, ENDPOINT, Sent
from tests.rehearsal.an_endpoint import Heard, an_endpoint

SIX = datetime(2026, 11, 3, 12, tzinfo=UTC)


@pytest.fixture(autouse=True)
def _short_waits(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sending, "WAITS", (0.01, 0.01, 0.01))


def a_report(number: int, how: str = ENDPOINT, at: datetime = SIX, **fields: object) -> Sent:
    return Sent(at, how, {"key": f"k{number}", "place": "P001", "kind": "note", "note": "x", **fields})


@contextmanager
def a_sender(heard: Heard, folder: Path) -> Iterator[Sender]:
    with httpx.Client(base_url=f"http://127.0.0.1:{heard.port}", timeout=5, trust_env=False) as client:
        yield Sender(client, "pr_key", folder, "rough-1")


def never(sent: int, at: datetime) -> None:
    return


def test_one_report_goes_by_itself_and_more_of_them_as_a_batch(tmp_path: Path) -> None:
    with an_endpoint() as heard, a_sender(heard, tmp_path) as sender:
        sender.send([a_report(1)])
        sender.send([a_report(2), a_report(3)])
    assert heard.bodies[0]["key"] == "k1"
    assert [each["key"] for each in heard.bodies[1]["reports"]] == ["k2", "k3"]
    assert heard.keys == ["Bearer pr_key"] * 2
    assert sender.tally.outcomes == {"kept": 3}


def test_a_batch_holds_five_hundred_at_most(tmp_path: Path) -> None:
    with an_endpoint() as heard, a_sender(heard, tmp_path) as sender:
        sender.send([a_report(number) for number in range(1_201)])
    assert [len(body.get("reports", [body])) for body in heard.bodies] == [500, 500, 201]


def test_too_many_and_a_cut_connection_are_tried_again_with_the_same_key(tmp_path: Path) -> None:
    with an_endpoint([(429, {"Retry-After": "0"}), None, (503, {})]) as heard, a_sender(heard, tmp_path) as sender:
        with pytest.raises(NotSent, match="answers 503; gave up after 3 tries"):
            sender.send([a_report(1)])
        sender.send([a_report(1)])
    assert [body["key"] for body in heard.bodies] == ["k1"] * 4
    assert sender.tally.outcomes == {"kept": 1}


@pytest.mark.parametrize(
    ("status", "outcome"), [(200, "already-held"), (409, "conflict"), (422, "refused"), (403, "refused")]
)
def test_an_answer_that_says_no_is_counted_and_not_tried_again(tmp_path: Path, status: int, outcome: str) -> None:
    with an_endpoint([(status, {})]) as heard, a_sender(heard, tmp_path) as sender:
        sender.send([a_report(1)])
    assert len(heard.bodies) == 1
    assert sender.tally.outcomes == {outcome: 1}


@pytest.mark.parametrize("status", [401, 404, 500])
def test_an_answer_that_should_not_be_ends_the_sending(tmp_path: Path, status: int) -> None:
    with (
        an_endpoint([(status, {})]) as heard,
        a_sender(heard, tmp_path) as sender,
        pytest.raises(NotSent, match=f"answered {status}"),
    ):
        sender.send([a_report(1)])


def test_a_dropped_file_holds_the_rows_of_one_moment_and_is_never_half_written(tmp_path: Path) -> None:
    later = SIX + timedelta(minutes=15)
    rows = [
        a_report(1, DROP),
        a_report(2, DROP, seal_intact=True),
        a_report(3, DROP, later, shown_precincts=["101", "102"]),
    ]
    with an_endpoint() as heard, a_sender(heard, tmp_path / "in") as sender:
        sender.send(rows)
    assert not heard.bodies
    files = sorted((tmp_path / "in").iterdir())
    assert [file.suffix for file in files] == [".csv", ".csv"]
    told = [list(csv.DictReader(file.read_text(encoding="utf-8").splitlines())) for file in files]
    assert [[row["key"] for row in rows] for rows in told] == [["k1", "k2"], ["k3"]]
    assert told[0][1]["seal_intact"] == "true"
    assert told[1][0]["shown_precincts"] == "101; 102"
    assert (sender.tally.files, sender.tally.rows) == (2, 3)


def test_a_day_is_played_in_its_order_by_its_clock(tmp_path: Path) -> None:
    clock = Clock(SIX, speed=600.0, since=time.time())
    at = clock.now()
    day = [a_report(number, at=at + timedelta(seconds=60 * number)) for number in range(1, 5)]
    seen: list[tuple[int, datetime]] = []
    with an_endpoint() as heard, a_sender(heard, tmp_path) as sender:
        play(day, sender, clock, lambda sent, moment: seen.append((sent, moment)))
    assert [body["key"] for body in heard.bodies] == ["k1", "k2", "k3", "k4"]
    for sent, moment in seen:
        assert all(each.at <= moment for each in day[: max(0, sent - 1)])
    assert clock.now() >= day[-1].at


def test_without_waiting_a_day_goes_in_batches(tmp_path: Path) -> None:
    day = [a_report(number, at=SIX + timedelta(hours=number)) for number in range(700)]
    with an_endpoint() as heard, a_sender(heard, tmp_path) as sender:
        play(day, sender, None, never)
    assert [len(body["reports"]) for body in heard.bodies] == [500, 200]


def test_a_program_that_died_ends_the_trying_again(tmp_path: Path) -> None:
    class Died(Exception):
        pass

    def died() -> None:
        raise Died

    with an_endpoint([None, None]) as heard, a_sender(heard, tmp_path) as sender:
        sender.watch = died
        with pytest.raises(Died):
            sender.send([a_report(1)])
    assert len(heard.bodies) == 1


def test_what_the_watch_raises_ends_the_play(tmp_path: Path) -> None:
    def fails(sent: int, at: datetime) -> None:
        raise KeyboardInterrupt

    with an_endpoint() as heard, a_sender(heard, tmp_path) as sender, pytest.raises(KeyboardInterrupt):
        play([a_report(1)], sender, None, fails)
    assert not heard.bodies
