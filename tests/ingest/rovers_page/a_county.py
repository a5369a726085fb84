"""An office with rovers on the road, answering on a port; and a rover's phone that runs no script."""

import json
import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.client import HTTPConnection
from pathlib import Path
from typing import Any
from urllib.parse import urlencode
from uuid import uuid4

from county.desk import ledger_pages
from county.domain.roster import Device, Place, Roster, Rover
from county.domain.senders import Sender
from county.settings import settings_from
from county.upkeep import issue_keys, load_roster
from county.wiring import open_office
from ingest.rovers_page.door import COOKIE
from tests import migrated
from tests.ingest.an_office import House, Reply, answering
from tests.ingest.officers_page.a_county import PLAN

HALF_PAST_SIX = "2026-11-03T06:30:00-06:00"
JAM = "P014.scanner-jam.SC-0141"
POWER = "P015.no-power"
ROSTER = Roster(
    places=(
        Place("P014", "Mill School", "12 Mill Road", "Seat", 41.90, -99.70, zone="north", phone="555-0114"),
        Place("P015", "Grange Hall", "3 Long Lane", "Seat", 41.95, -99.80, zone="north", phone="555-0115"),
        Place("P016", "Old Depot", zone="north"),
    ),
    devices=(Device("SC-0141", "P014", "scanner"), Device("SC-0151", "P015", "scanner")),
    rovers=(
        Rover("R03", "Ana Invented", "north", "555-0177", 41.91, -99.72, ("scanner", "power"), ("scanner", "seals")),
        Rover("R04", "Bo Imagined", "north", "555-0178", 41.99, -99.90, ("pollbook",), ("tape",)),
    ),
)


@dataclass(frozen=True)
class County:
    """An office that answers, and a key for each rover."""

    house: House
    keys: Mapping[str, str]

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.house.port}"

    def way_in(self, rover: str = "R03") -> str:
        """What the square code on the card says."""
        return f"{self.address}/rover/{rover}?k={self.keys[rover]}"

    def trouble(self, place: str, exception: str, **fields: object) -> None:
        """A place reports trouble."""
        report = {"key": uuid4().hex, "place": place, "kind": "exception", "exception": exception, **fields}
        assert self.house.post(report, self.house.desk_key).status == 201

    def assign(self, case: str, rover: str = "R03", **fields: str) -> None:
        """The desk gives a case to a rover."""
        action = {"key": uuid4().hex, "action": "assign", "rover": rover, **fields}
        assert self.house.act(case, action).status == 201

    def jam(self, rover: str = "R03") -> str:
        """A scanner jam at P014, given to a rover; the case's name."""
        self.trouble("P014", "scanner-jam", device="SC-0141", note="paper across the sensor")
        self.assign(JAM, rover)
        return JAM

    def case(self, case: str) -> dict[str, Any]:
        """The case as the endpoint gives it."""
        return next(each for each in self.house.get("/cases?state=all").body if each["case"] == case)

    def actions(self, sender: str = "rover:R03") -> list[dict[str, Any]]:
        """What a rover's key did, in the ledger's order."""
        entries = ledger_pages(self.house.office, limit=1_000_000)
        return [entry for entry in entries if entry["kind"] == "action" and entry["sender"] == sender]


@contextmanager
def a_county(data: Path, now: str = f"{HALF_PAST_SIX}x1") -> Iterator[County]:
    """A fresh county with the sample plan; `now` empty for the real clock."""
    data.mkdir(exist_ok=True)
    (data / "plan.toml").write_text(PLAN)
    settings = settings_from({"POLLRISE_DATA": str(data)} | ({"POLLRISE_NOW": now} if now else {}))
    migrated.put(settings.database_url)
    office = open_office(settings)
    load_roster(office, ROSTER)
    names = [rover.rover for rover in ROSTER.rovers]
    keys = issue_keys(office, [Sender.on_the_road(name) for name in names])
    with answering(office) as house:
        yield County(house, dict(zip(names, keys, strict=True)))


@dataclass
class Plain:
    """A rover's phone without script: pages, forms, and the one cookie."""

    county: County
    rover: str = "R03"
    cookie: str = ""
    headers: dict[str, str] = field(default_factory=dict)

    def get(self, path: str = "", **headers: str) -> Reply:
        """The page, or another of this rover's."""
        return self.ask("GET", f"/rover/{self.rover}{path}", None, headers)

    def post(self, **fields: str) -> Reply:
        """One form, sent as a browser sends it."""
        own = {"content-type": "application/x-www-form-urlencoded", "origin": self.county.address}
        return self.ask("POST", f"/rover/{self.rover}", urlencode(fields).encode(), own)

    def send(self, *forms: Mapping[str, str], **headers: str) -> Reply:
        """What the script sends."""
        own = {"content-type": "application/json", "origin": self.county.address} | headers
        return self.ask("POST", f"/rover/{self.rover}/actions", json.dumps({"forms": list(forms)}).encode(), own)

    def sign_in(self, key: str | None = None) -> Reply:
        """By the card's address."""
        return self.get(f"?k={self.county.keys[self.rover] if key is None else key}")

    def state(self) -> dict[str, Any]:
        """How things stand, as the script asks for it."""
        state: dict[str, Any] = self.get("/state").body
        return state

    def ask(self, method: str, path: str, body: bytes | None, headers: Mapping[str, str]) -> Reply:
        connection = HTTPConnection("127.0.0.1", self.county.house.port, timeout=30)
        own = {"cookie": f"{COOKIE}={self.cookie}"} if self.cookie else {}
        try:
            connection.request(method, path, body, own | self.headers | dict(headers))
            answer = connection.getresponse()
            named = {name.lower(): value for name, value in answer.getheaders()}
            given = re.match(rf"{COOKIE}=([^;]*)", named.get("set-cookie", ""))
            self.cookie = given[1] if given else self.cookie
            return Reply(answer.status, named, answer.read().decode())
        finally:
            connection.close()


def a_phone(county: County, rover: str = "R03") -> Plain:
    """One that is signed in."""
    phone = Plain(county, rover)
    assert phone.sign_in().status == 303
    return phone


def a_tap(action: str, case: str = JAM, key: str = "", **fields: str) -> dict[str, str]:
    """A tap as it is sent."""
    return {"key": key or f"k-{action}", "case": case, "action": action, **fields}
