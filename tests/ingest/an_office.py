"""The small office with its doors open: an endpoint that answers on a port of its own, and keys."""

import json
import socket
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from http.client import HTTPConnection
from pathlib import Path
from threading import Thread
from typing import Any
from urllib.parse import quote

import uvicorn

from county import desk
from county.domain.receipts import SetAside
from county.domain.senders import Sender
from county.following import Following
from county.upkeep import issue_keys
from county.wiring import Office
from ingest.api import create_app, writer_for
from ingest.loops import Loop
from ingest.pace import Pace
from ingest.short_heads import ShortHeads
from ingest.writer import Keep, Writer
from tests.an_office import set_up

FREELY = Pace(a_minute=1_000_000)
ZERO = {
    "key": "zero-1",
    "place": "P014",
    "kind": "step",
    "step": "zero-report",
    "happened_at": "2026-11-03T05:41:00-06:00",
    "device": "SC-0141",
    "public_counter": 0,
    "protective_counter": 48_210,
    "copies": 3,
    "signers": 3,
    "note": "tape 2 reprinted",
}


@dataclass(frozen=True)
class Reply:
    """An answer: status, headers (small letters), and the body as it came."""

    status: int
    headers: Mapping[str, str]
    text: str

    @property
    def body(self) -> Any:
        return json.loads(self.text)

    def __getitem__(self, name: str) -> Any:
        return self.body[name]

    @property
    def fields(self) -> list[str]:
        """The fields that problem details name, the rest of the form checked on the way."""
        assert self.headers["content-type"] == "application/problem+json"
        assert self["type"] == "about:blank"
        assert self["status"] == self.status
        assert self["title"]
        assert self["detail"]
        assert all(set(error) == {"field", "says"} and error["says"] for error in self["errors"])
        return [error["field"] for error in self["errors"]]


@dataclass(frozen=True, repr=False)
class House:
    """An office whose endpoint answers on a port of its own."""

    office: Office
    following: Following
    writer: Writer
    port: int
    place_key: str
    desk_key: str

    def ask(self, method: str, path: str, body: bytes | None = None, key: str | None = None, **headers: str) -> Reply:
        """One request on a connection of its own; no key is sent where it is empty."""
        connection = HTTPConnection("127.0.0.1", self.port, timeout=30)
        told = {"Authorization": f"Bearer {key}"} if key else {}
        try:
            connection.request(method, path, body, told | headers)
            answer = connection.getresponse()
            named = {name.lower(): value for name, value in answer.getheaders()}
            return Reply(answer.status, named, answer.read().decode("utf-8"))
        finally:
            connection.close()

    def post(self, report: object, key: str | None = None) -> Reply:
        """POST /reports with the place's key, or another."""
        return self.send(json.dumps(report).encode(), key)

    def send(self, body: bytes, key: str | None = None) -> Reply:
        """The same with a body as it is."""
        return self.ask("POST", "/reports", body, self.place_key if key is None else key)

    def get(self, path: str, key: str | None = None) -> Reply:
        """GET with the desk's key, or another."""
        return self.ask("GET", path, None, self.desk_key if key is None else key)

    def act(self, case: str, action: object, key: str | None = None) -> Reply:
        """POST an action on a case with the desk's key, or another."""
        path = f"/cases/{quote(case)}/actions"
        return self.ask("POST", path, json.dumps(action).encode(), self.desk_key if key is None else key)

    def aside(self) -> list[SetAside]:
        """What was set aside, newest first."""
        return desk.set_aside_list(self.office)

    def ledger(self) -> list[dict[str, Any]]:
        """Every report in the ledger, the roster's own entry left out."""
        return [entry for entry in self.get("/ledger").body if entry["kind"] != "roster"]


def a_report(**fields: object) -> dict[str, object]:
    """A good zero report of P014, with other fields where they are given (None leaves one out)."""
    return {name: value for name, value in (ZERO | fields).items() if value is not None}


@contextmanager
def a_house(data: Path, pace: Pace | None = FREELY, keep: Keep | None = None) -> Iterator[House]:
    """A running endpoint over a fresh office; `keep` stands in for the ledger where a test needs it to fail."""
    office = set_up(data)
    with answering(office, pace, keep) as house:
        yield house


@contextmanager
def answering(
    office: Office, pace: Pace | None = FREELY, keep: Keep | None = None, loops: Sequence[Loop] = ()
) -> Iterator[House]:
    """The endpoint of an office, answering on a free port, with a key of P014 and one of the front desk.

    Without a `pace` it is the settings'.
    """
    following = Following(office)
    writer = Writer(keep) if keep else writer_for(office)
    place_key, desk_key = issue_keys(office, [Sender.at_place("P014"), Sender.at_desk("Front desk")])
    app = create_app(office, following, writer, pace, loops)
    server = uvicorn.Server(uvicorn.Config(app, http=ShortHeads, ws="none", log_config=None, access_log=False))
    listener = socket.create_server(("127.0.0.1", 0))
    thread = Thread(target=server.run, kwargs={"sockets": [listener]})
    thread.start()
    try:
        yield House(office, following, writer, listener.getsockname()[1], place_key, desk_key)
    finally:
        server.should_exit = True
        thread.join()
        listener.close()
        office.engine.dispose()
