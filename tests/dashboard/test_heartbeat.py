"""What every open page is told each second."""

import json
import socket
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import timedelta
from pathlib import Path
from threading import Thread
from typing import Any

import httpx
import pytest
import uvicorn
from starlette.applications import Starlette
from starlette.routing import WebSocketRoute
from websockets.exceptions import InvalidStatus
from websockets.sync.client import ClientConnection, connect

from county import desk
from county.domain.going_round import Work
from county.signs_of_life import note_turns
from dashboard import heartbeat
from dashboard.feed import Feed
from dashboard.heartbeat import Heart
from tests.builders import OPENS, a_step, after
from tests.dashboard.a_board import a_feed


@contextmanager
def served(feed: Feed) -> Iterator[str]:
    """The heartbeat's own route on a free port; its host and port."""
    heart = Heart(feed, feed.office.settings)
    app = Starlette(routes=[WebSocketRoute(heartbeat.ROUTE, heart.beat)])
    server = uvicorn.Server(uvicorn.Config(app, ws="websockets-sansio", log_config=None))
    with socket.create_server(("127.0.0.1", 0)) as listener:
        thread = Thread(target=server.run, kwargs={"sockets": [listener]})
        thread.start()
        try:
            yield f"127.0.0.1:{listener.getsockname()[1]}"
        finally:
            server.should_exit = True
            thread.join()


@contextmanager
def a_page_of(feed: Feed, origin: str | None = None) -> Iterator[ClientConnection]:
    """One page listening, as if it had come from `origin`; from the board itself where that is `own`."""
    with served(feed) as here:
        told = f"http://{here}" if origin == "own" else origin
        with connect(f"ws://{here}{heartbeat.ROUTE}", origin=told, proxy=None) as page:  # type: ignore[arg-type]
            yield page


def beat(page: ClientConnection) -> dict[str, Any]:
    told: dict[str, Any] = json.loads(page.recv(timeout=10))
    return told


def test_a_beat_says_the_newest_board_the_offices_time_and_the_last_report(tmp_path: Path) -> None:
    with a_feed(tmp_path, [a_step("staffed", after(-2))]) as feed, a_page_of(feed) as page:
        told = beat(page)
        assert told["revision"] == feed.revision
    assert told["now"] == OPENS.timestamp()
    assert told["last"] == after(-2).timestamp() + 3
    assert 0 <= told["behind"] < 10
    assert told["endpoint"] == "not asked yet"


def test_a_newer_board_is_told_without_being_asked(tmp_path: Path) -> None:
    with a_feed(tmp_path) as feed, a_page_of(feed, "own") as page:
        first = beat(page)["revision"]
        desk.keep(feed.office, [a_step("staffed")])
        feed.refresh(at_once=True)
        assert [beat(page)["revision"], beat(page)["revision"]][-1] == first + 1


def test_a_page_from_elsewhere_is_not_spoken_to(tmp_path: Path) -> None:
    with a_feed(tmp_path) as feed, pytest.raises(InvalidStatus), a_page_of(feed, "http://elsewhere.example"):
        pass


def test_a_beat_says_what_has_not_come_round(tmp_path: Path) -> None:
    with a_feed(tmp_path) as feed:
        heart = Heart(feed, feed.office.settings)
        assert heart.says()["alarm"] == "", "before the signs of life are read nothing is known"
        minute = timedelta(minutes=1)
        note_turns(feed.office, {**dict.fromkeys(Work, minute / 2), Work.CLOCK: 2 * minute})
        feed.signs.read()
        assert str(heart.says()["alarm"]).startswith("The endpoint's clock has not run for 2 min: late openings")


def test_an_endpoint_whose_loop_stands_still_answers_all_the_same() -> None:
    stalled = httpx.Response(503, content=b'{"status":"stalled","seq":1,"loops":{"clock":61.0},"stalled":["clock"]}')
    assert heartbeat.endpoint_answers(stalled)
    assert heartbeat.endpoint_answers(httpx.Response(200, json={"status": "ok"}))
    assert not heartbeat.endpoint_answers(httpx.Response(503, json={"title": "Service Unavailable"}))


def test_the_endpoint_is_found_silent_when_nothing_answers_there(tmp_path: Path) -> None:
    with a_feed(tmp_path) as feed:
        heart = Heart(feed, feed.office.settings)
        heart.answered(ok=False)
        assert heart.says()["endpoint"] == "not asked yet"
        heart.answered(ok=False)
        assert heart.says()["endpoint"] == "silent"
        heart.answered(ok=True)
        assert heart.says()["endpoint"] == "answers"
