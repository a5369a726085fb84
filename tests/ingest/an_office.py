"""A small office for the doors' tests: two places, one with two precincts, keys, a pinned clock, a real database."""

import json
import socket
from collections.abc import Iterator, Mapping
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
from county.domain.roster import Device, Place, Precinct, Roster, Rover, Seal
from county.domain.senders import Sender
from county.following import Following
from county.settings import settings_from
from county.upkeep import issue_keys, load_roster
from county.wiring import Office, open_office
from ingest.api import create_app, writer_for
from ingest.pace import Pace
from ingest.short_heads import ShortHeads
from ingest.writer import Keep, Writer

PLAN = """
[election]
name = "General Election"
county = "Wrenfield County"
date = 2026-11-03
zone = "America/Chicago"
opens = "06:00"
closes = "19:00"
rehearsal = true

[[step]]
key = "staffed"
says = "Officers present"
due = "-30m"
grace = "5m"

[[step]]
key = "seals-checked"
says = "Seals compared"
due = "-25m"
grace = "5m"
per = "device"
types = ["scanner"]

[[step]]
key = "zero-report"
says = "Zero report printed"
due = "-15m"
grace = "5m"
per = "device"
types = ["scanner"]

[[step]]
key = "open"
says = "Polls declared open"
due = "0m"

[[step]]
key = "closed"
says = "Polls declared closed"
due = "close+0m"
"""
ROSTER = Roster(
    places=(Place("P014", "Mill Creek School"), Place("P015", "Grange Hall")),
    precincts=(
        Precinct("14A", "Mill Creek North", "P014"),
        Precinct("14B", "Mill Creek South", "P014"),
        Precinct("15", "Grange", "P015"),
    ),
    devices=(
        Device("SC-0141", "P014", "scanner", protective_counter=48_210),
        Device("SC-0151", "P015", "scanner", protective_counter=100),
    ),
    seals=(Seal("SC-0141", "ballot-box", "A100"),),
    rovers=(Rover("R03", "Rover Three", "north"),),
)
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


def set_up(data: Path, now: str = "2026-11-03T05:45:00-06:00x0", roster: Roster = ROSTER) -> Office:
    """Plan, database and roster in a folder, with the clock standing still."""
    data.mkdir(exist_ok=True)
    (data / "plan.toml").write_text(PLAN)
    office = open_office(settings_from({"POLLRISE_DATA": str(data), "POLLRISE_NOW": now}))
    load_roster(office, roster)
    return office


@contextmanager
def a_house(data: Path, pace: Pace | None = None, keep: Keep | None = None) -> Iterator[House]:
    """A running endpoint over a fresh office; `keep` stands in for the ledger where a test needs it to fail."""
    office = set_up(data)
    with answering(office, pace, keep) as house:
        yield house


@contextmanager
def answering(office: Office, pace: Pace | None = None, keep: Keep | None = None) -> Iterator[House]:
    """The endpoint of an office, answering on a free port, with a key of P014 and one of the front desk."""
    following = Following(office)
    writer = Writer(keep) if keep else writer_for(office)
    place_key, desk_key = issue_keys(office, [Sender.at_place("P014"), Sender.at_desk("Front desk")])
    app = create_app(office, following, writer, pace or Pace(a_minute=1_000_000))
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
