"""Every path that the board serves, unsigned, with a first password, with every role: a path without a line fails."""

import json
import subprocess
import sys
from collections.abc import Iterator
from contextlib import ExitStack

import httpx
import pytest
from websockets.exceptions import InvalidStatus
from websockets.sync.client import connect
from websockets.typing import Origin

from county import signing_in, staffing
from county.domain.people import Person, Role
from dashboard.people_now import PeopleNow
from dashboard.sign_in.door import door_of
from tests.dashboard.a_running_board import HERE, RunningBoard, a_running_board
from tests.dashboard.signed_in import cookie_of, the_cookie

ANYBODY, CHANGING, SIGNED_IN = "anybody", "also with a first password", "signed in"
# for whom each path is; one that is not here makes the test fail
TABLE: dict[str, str] = {
    "/sign-in": ANYBODY,
    "/sign-in/look.css": ANYBODY,
    "/sign-in/icon.png": ANYBODY,
    "/_stcore/health": ANYBODY,
    "/sign-in/password": CHANGING,
    "/sign-out": CHANGING,
    "/live": SIGNED_IN,
    "/county": SIGNED_IN,
    "/rovers-sheets.pdf": SIGNED_IN,
    "/_stcore/metrics": SIGNED_IN,
    "/_stcore/host-config": SIGNED_IN,
    "/media/{file_id:path}": SIGNED_IN,
    "/_stcore/upload_file/{session_id}/{file_id}": SIGNED_IN,
    "/component/{path:path}": SIGNED_IN,
    "/_stcore/bidi-components/{path:path}": SIGNED_IN,
    "/_stcore/stream": SIGNED_IN,
    "/auth/login": SIGNED_IN,
    "/auth/logout": SIGNED_IN,
    "/oauth2callback": SIGNED_IN,
    "/_stcore/agent/interact": SIGNED_IN,
    "/_stcore/agent/openapi.json": SIGNED_IN,
    "/_stcore/agent/mcp": SIGNED_IN,
    # everything else: Streamlit's page and its parts, and whatever is asked for that is not there
    "": SIGNED_IN,
}
PARTS = ("/", "/exceptions", "/static/js/index.js", "/index.html", "/favicon.png", "/nothing", "/robots.txt")
WHO = ("nobody", "first password", *(role.value for role in Role))


@pytest.fixture(scope="module")
def running(tmp_path_factory: pytest.TempPathFactory) -> Iterator[RunningBoard]:
    with a_running_board(tmp_path_factory.mktemp("paths") / "data", places=3) as board:
        yield board


@pytest.fixture(scope="module")
def served() -> list[tuple[str, list[str]]]:
    """Every path and its methods, as the application itself has them."""
    said = subprocess.run(
        [sys.executable, "-m", "tests.dashboard.the_routes"], cwd=HERE, capture_output=True, text=True, check=True
    )
    found: list[tuple[str, list[str]]] = json.loads(said.stdout)
    return found


@pytest.fixture(scope="module")
def cookies(running: RunningBoard) -> dict[str, str]:
    """A cookie header for each who asks."""
    held = {"nobody": ""}
    for role in Role:
        name, value = cookie_of(running.office, f"{role.value.title()} Person", role)
        held[role.value] = f"{name}={value}"
    staffing.add_person(running.office, Person("New Person", Role.LEAD))
    (account,) = [each for each in staffing.accounts(running.office) if each.name == "New Person"]
    token = signing_in.begin_session(running.office, account, signing_in.BY_PASSWORD)
    name, value = the_cookie(door_of(running.office, PeopleNow(running.office)), token, account.name)
    return {**held, "first password": f"{name}={value}"}


def test_every_path_has_a_line(served: list[tuple[str, list[str]]]) -> None:
    assert {path for path, _ in served} == set(TABLE)


@pytest.mark.parametrize("who", WHO)
def test_every_path_lets_in_whom_it_is_for(
    running: RunningBoard, served: list[tuple[str, list[str]]], cookies: dict[str, str], who: str
) -> None:
    for path, methods in served:
        let_in = TABLE[path] == ANYBODY or who not in ("nobody", "first password")
        let_in = let_in or (TABLE[path] == CHANGING and who == "first password")
        for there in PARTS if path == "" else (path.partition("{")[0] + "x" * ("{" in path),):
            for method in methods if path else ("GET", "HEAD", "POST", "PUT"):
                passed = goes(running, method, there, cookies[who])
                assert passed is let_in, (who, method, there)


def goes(running: RunningBoard, method: str, path: str, cookie: str) -> bool:
    """Whether a request comes past the door."""
    headers = {"Cookie": cookie} if cookie else {}
    if method == "SOCKET":
        return opens(running, path, headers)
    with httpx.Client(base_url=running.address, headers=headers, trust_env=False, timeout=30) as client:
        as_part = client.request(method, path, headers={"accept": "*/*"})
        as_page = client.request(method, path, headers={"accept": "text/html"})
    if as_part.status_code == 401:
        led = as_page.headers.get("location", "")
        assert as_page.status_code == 401 or (as_page.status_code == 303 and led.startswith("/sign-in"))
    return as_part.status_code != 401


def opens(running: RunningBoard, path: str, headers: dict[str, str]) -> bool:
    """Whether a socket is opened."""
    at = f"ws://127.0.0.1:{running.port}{path}"
    with ExitStack() as stack:
        try:
            stack.enter_context(connect(at, additional_headers=headers, origin=Origin(running.address), proxy=None))
        except InvalidStatus as refused:
            return refused.response.status_code != 403
    return True


@pytest.mark.parametrize("path", ["/_stcore/stream", "/live"])
def test_another_sites_page_opens_no_socket_with_a_persons_cookie(
    running: RunningBoard, cookies: dict[str, str], path: str
) -> None:
    for origin in ("http://elsewhere.example", "null", f"http://localhost:{running.port + 1}"):
        with (
            pytest.raises(InvalidStatus),
            connect(
                f"ws://127.0.0.1:{running.port}{path}",
                additional_headers={"Cookie": cookies["lead"]},
                origin=Origin(origin),
                proxy=None,
            ),
        ):
            pass
