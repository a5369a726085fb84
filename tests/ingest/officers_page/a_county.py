"""Offices whose places have a sheet worth filling in, answering on a port; and a phone that runs no script."""

import json
import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.client import HTTPConnection
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from county.desk import ledger_pages
from county.domain.roster import Device, Place, Precinct, Roster, Rover, Seal
from county.domain.senders import Sender
from county.settings import settings_from
from county.upkeep import issue_keys, load_roster
from county.wiring import open_office
from ingest.officers_page.door import COOKIE
from tests import migrated
from tests.ingest.an_office import House, Reply, answering

PLAN = (Path(__file__).parents[3] / "sample_data" / "plan.toml").read_text()
QUARTER_PAST_FIVE = "2026-11-03T05:15:00-06:00"
PROTECTIVE = 48_210


def a_roster(places: int = 2) -> Roster:
    """Places P014, P015 ..., each with two scanners and a ballot-marking device, four seals, and a phone."""
    numbers = [f"{number:03}" for number in range(14, 14 + places)]
    devices = [
        Device(f"{kind}-{number}{nth}", f"P{number}", type_, protective_counter=PROTECTIVE + int(number))
        for number in numbers
        for kind, nth, type_ in (("SC", 1, "scanner"), ("SC", 2, "scanner"), ("BM", 1, "bmd"))
    ]
    seals = [
        Seal(f"{device}", position, seal_number(device, position))
        for number in numbers
        for device, position in (
            (f"SC-{number}1", "front"),
            (f"SC-{number}1", "auxiliary"),
            (f"SC-{number}2", "front"),
            (f"BM-{number}1", "front"),
        )
    ]
    return Roster(
        places=tuple(
            Place(f"P{n}", f"{_NAMES[int(n) % len(_NAMES)]} {n}", phone=f"555-01{int(n) % 100:02}") for n in numbers
        ),
        precincts=tuple(Precinct(f"{int(n)}A", f"Ward {int(n)} North", f"P{n}") for n in numbers),
        devices=tuple(devices),
        seals=tuple(seals),
        rovers=(Rover("R03", "Ana Invented", "north", phone="555-0177"),),
    )


_NAMES = ("Brook Chapel", "Mill School", "Grange Hall", "Old Depot")


def seal_number(device: str, position: str) -> str:
    """The number recorded for a seal: no other number of the roster looks like it."""
    return f"9{sum(map(ord, device + position)) * 7919 % 100_000:05}"


@dataclass(frozen=True)
class County:
    """An office that answers, and a key for each place."""

    house: House
    keys: Mapping[str, str]

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.house.port}"

    def way_in(self, place: str = "P014") -> str:
        """What the square code on the card says."""
        return f"{self.address}/at/{place}?k={self.keys[place]}"

    def told(self, place: str = "P014") -> list[dict[str, Any]]:
        """Every report of one place in the ledger, in order."""
        entries = ledger_pages(self.house.office, limit=1_000_000)
        return [entry for entry in entries if entry["place"] == place and entry["kind"] != "raised"]

    def steps(self, place: str = "P014") -> list[dict[str, Any]]:
        """The steps among them."""
        return [entry for entry in self.told(place) if entry["kind"] == "step"]


@contextmanager
def a_county(
    data: Path, places: int = 2, now: str = f"{QUARTER_PAST_FIVE}x1", roster: Roster | None = None
) -> Iterator[County]:
    """A fresh county with the sample plan; `now` empty for the real clock, another roster where one is given."""
    data.mkdir(exist_ok=True)
    (data / "plan.toml").write_text(PLAN)
    settings = settings_from({"POLLRISE_DATA": str(data)} | ({"POLLRISE_NOW": now} if now else {}))
    migrated.put(settings.database_url)
    office = open_office(settings)
    roster = roster or a_roster(places)
    load_roster(office, roster)
    names = [place.place for place in roster.places]
    keys = issue_keys(office, [Sender.at_place(name) for name in names])
    with answering(office) as house:
        yield County(house, dict(zip(names, keys, strict=True)))


@dataclass
class Plain:
    """A phone without script: pages, forms, and the one cookie."""

    county: County
    place: str = "P014"
    cookie: str = ""
    headers: dict[str, str] = field(default_factory=dict)

    def get(self, path: str = "", **headers: str) -> Reply:
        """The sheet, or another page of this place."""
        return self.ask("GET", f"/at/{self.place}{path}", None, headers)

    def post(self, **fields: str) -> Reply:
        """One form, sent as a browser sends it."""
        return self.post_body(urlencode(fields).encode())

    def post_body(self, body: bytes) -> Reply:
        """The same with a body as it is."""
        own = {"content-type": "application/x-www-form-urlencoded", "origin": self.county.address}
        return self.ask("POST", f"/at/{self.place}", body, own)

    def send(self, *forms: Mapping[str, str], **headers: str) -> Reply:
        """What the script sends."""
        own = {"content-type": "application/json", "origin": self.county.address}
        return self.ask("POST", f"/at/{self.place}/reports", json.dumps({"forms": list(forms)}).encode(), own | headers)

    def sign_in(self, key: str | None = None) -> Reply:
        """By the card's address."""
        return self.get(f"?k={self.county.keys[self.place] if key is None else key}")

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


def a_phone(county: County, place: str = "P014") -> Plain:
    """One that is signed in."""
    phone = Plain(county, place)
    assert phone.sign_in().status == 303
    return phone


def a_step(step: str, device: str = "", position: str = "", key: str = "", **fields: str) -> dict[str, str]:
    """A step's form as it is sent."""
    name = "-".join(part for part in (step, device, position) if part)
    head = {"form": "step", "key": key or f"k-{name}", "step": step, "device": device, "seal_position": position}
    return head | {"anchor": f"t-{name}"} | fields


def a_seal(number: str, device: str = "SC-0141", position: str = "front", **more: str) -> dict[str, str]:
    """A seal check as it is sent."""
    return a_step("seals-checked", device, position, **{"seal_number": number, "seal_intact": "whole"} | more)


def a_zero(device: str = "SC-0141", **fields: str) -> dict[str, str]:
    """A good zero report as it is sent, with other fields where they are given."""
    good = {"public_counter": "0", "protective_counter": "48,224", "copies": "3", "signers": "2"}
    return a_step("zero-report", device, **good | fields)
