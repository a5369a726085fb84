"""Every path of the endpoint with every kind of key, and with none: a path without a line in the table fails."""

from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest

from county.domain.senders import Sender
from county.following import Following
from county.upkeep import issue_keys
from ingest.api import create_app, writer_for
from tests.ingest.an_office import House, a_house

WHO = ("nobody", "a made-up key", "P014", "P015", "rover R03", "desk")
IN, NO_KEY, NOT_YOURS = "let in", "401", "403"
ANYBODY = (IN,) * 6
# path and method: what nobody, a made-up key, the place itself, another place, a rover, and a desk come to
TABLE: dict[tuple[str, str], tuple[str, ...]] = {
    ("POST", "/reports"): (NO_KEY, NO_KEY, IN, NOT_YOURS, NOT_YOURS, IN),
    ("POST", "/cases/{case}/actions"): (NO_KEY, NO_KEY, NOT_YOURS, NOT_YOURS, IN, IN),
    ("POST", "/text"): (NO_KEY, NO_KEY, NOT_YOURS, NOT_YOURS, NOT_YOURS, IN),
    ("GET", "/picture"): (NO_KEY, NO_KEY, IN, IN, NOT_YOURS, IN),
    ("GET", "/cases"): (NO_KEY, NO_KEY, IN, IN, NOT_YOURS, IN),
    ("GET", "/ledger"): (NO_KEY, NO_KEY, NOT_YOURS, NOT_YOURS, NOT_YOURS, IN),
    ("GET", "/health"): ANYBODY,
    ("GET", "/metrics"): ANYBODY,
    ("GET", "/openapi.json"): ANYBODY,
    ("GET", "/docs"): ANYBODY,
    # the pages' own style and scripts hold nothing of any place
    ("GET", "/at/-/{name}"): ANYBODY,
    ("GET", "/rover/-/{name}"): ANYBODY,
    ("GET", "/at/{place}"): (NO_KEY, NO_KEY, IN, NOT_YOURS, NOT_YOURS, IN),
    ("POST", "/at/{place}"): (NO_KEY, NO_KEY, IN, NOT_YOURS, NOT_YOURS, IN),
    ("GET", "/at/{place}/state"): (NO_KEY, NO_KEY, IN, NOT_YOURS, NOT_YOURS, IN),
    ("POST", "/at/{place}/reports"): (NO_KEY, NO_KEY, IN, NOT_YOURS, NOT_YOURS, IN),
    ("GET", "/rover/{rover}"): (NO_KEY, NO_KEY, NOT_YOURS, NOT_YOURS, IN, NOT_YOURS),
    ("POST", "/rover/{rover}"): (NO_KEY, NO_KEY, NOT_YOURS, NOT_YOURS, IN, NOT_YOURS),
    ("GET", "/rover/{rover}/state"): (NO_KEY, NO_KEY, NOT_YOURS, NOT_YOURS, IN, NOT_YOURS),
    ("POST", "/rover/{rover}/actions"): (NO_KEY, NO_KEY, NOT_YOURS, NOT_YOURS, IN, NOT_YOURS),
}
NOTE = {"key": "walk-1", "place": "P014", "kind": "note", "note": "walked"}
BODIES: dict[str, dict[str, object]] = {
    "/reports": {"json": NOTE},
    "/cases/{case}/actions": {"json": {"key": "walk-2", "action": "note", "note": "walked"}},
    "/text": {"data": {"from": "555-0100", "body": "P014 note walked"}},
    "/at/{place}/reports": {"json": {"forms": []}},
    "/rover/{rover}/actions": {"json": {"forms": []}},
}


@pytest.fixture(params=WHO)
def asked(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[tuple[House, str, str]]:
    """An endpoint nobody has asked before, who asks, and with which key."""
    with a_house(tmp_path / "data") as house:
        other, rover = issue_keys(house.office, [Sender.at_place("P015"), Sender.on_the_road("R03")])
        keys = ("", "pr_made-up", house.place_key, other, rover, house.desk_key)
        yield house, request.param, dict(zip(WHO, keys, strict=True))[request.param]


def paths(house: House) -> set[tuple[str, str]]:
    """Every method and path of the endpoint, as the application itself has them."""
    app = create_app(house.office, Following(house.office), writer_for(house.office))
    return {
        (method, str(getattr(route, "path", "")))
        for route in app.router.routes
        for method in getattr(route, "methods", None) or ("SOCKET",)
        if method != "HEAD"
    }


def test_every_path_lets_in_whom_it_is_for(asked: tuple[House, str, str]) -> None:
    house, who, key = asked
    found = paths(house)
    assert found == set(TABLE), "a path without a line in the table"
    for method, path in sorted(found):
        # a made-up key that was tried too often is refused before anybody looks at it
        expected = TABLE[method, path][WHO.index(who)]
        status = ask(house, method, path, key)
        if who == "a made-up key" and status == 429:
            continue
        came_to = {401: NO_KEY, 403: NOT_YOURS}.get(status, IN)
        assert came_to == expected, (method, path, who, status)
        assert status < 500


def ask(house: House, method: str, path: str, key: str) -> int:
    """One request, with the key as a sender gives it and as the pages' cookies do; the status."""
    there = (
        path.replace("{case}", "P014.fire").replace("{place}", "P014").replace("{rover}", "R03").replace("{name}", "x")
    )
    headers = {"Authorization": f"Bearer {key}", "Cookie": f"sheet_key={key}; rover_key={key}"} if key else {}
    body = BODIES.get(path, {"data": {}} if method == "POST" else {})
    with httpx.Client(base_url=f"http://127.0.0.1:{house.port}", trust_env=False) as client:
        return client.request(method, there, headers=headers, **body).status_code  # type: ignore[arg-type]
