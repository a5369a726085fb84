"""Nothing behind the door is reached unsigned, sockets too; who somebody is, is said by their session alone."""

import json
import socket
import time
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from websockets.exceptions import ConnectionClosed, InvalidStatus
from websockets.sync.client import connect

from county import signing_in, staffing
from county.domain.people import Person, Role
from dashboard.sign_in.guard import GONE, OPEN
from tests.dashboard.sign_in.a_door import ANN, AtTheDoor, a_door, sign_in

SOON = 5.0
"""Seconds within which a person who is signed out must see and do no more."""


@pytest.fixture
def door(tmp_path: Path) -> Iterator[AtTheDoor]:
    with a_door(tmp_path) as at:
        yield at


def test_a_page_leads_to_the_door_and_its_parts_are_refused(door: AtTheDoor) -> None:
    browser = door.browser()
    assert browser.get("/exceptions").headers["location"] == "/sign-in?next=%2Fexceptions"
    assert browser.get("/").headers["location"] == "/sign-in"
    for path in (
        "/exceptions",
        "/static/js/index.js",
        "/media/a.png",
        "/_stcore/metrics",
        "/_stcore/host-config",
        "/nothing",
    ):
        refused = browser.get(path, headers={"accept": "*/*"})
        assert (refused.status_code, refused.text) == (401, "Sign in first."), path
    for method in ("POST", "PUT", "DELETE", "HEAD", "OPTIONS"):
        assert browser.request(method, "/_stcore/upload_file/x").status_code == 401


@pytest.mark.parametrize(
    "path",
    [
        "/sign-in/../exceptions",
        "//sign-in",
        "/sign-in/",
        "/%2e%2e/exceptions",
        "/sign-in%2f..%2fcounty",
        "/SIGN-IN",
        "/sign-in;x",
    ],
)
def test_no_way_of_writing_the_open_paths_opens_another(door: AtTheDoor, path: str) -> None:
    answer = door.browser().get(path, headers={"accept": "*/*"})
    assert answer.status_code in (401, 404)
    assert "x-pollrise" not in answer.text


def test_only_these_paths_are_open() -> None:
    assert sorted(OPEN) == [
        "/_stcore/health",
        "/sign-in",
        "/sign-in/back",
        "/sign-in/icon.png",
        "/sign-in/look.css",
        "/sign-in/provider",
    ]


def test_a_cookie_that_was_not_signed_here_is_no_cookie(door: AtTheDoor) -> None:
    browser = door.signed_in()
    (name, value), *_ = [(name, value) for name, value in browser.cookies.items() if "_session_" in name]
    token, _, signature = value.partition(".")
    another = "A" if signature[0] != "A" else "B"
    for forged in (f"{token}.{another}{signature[1:]}", token, f"x{value}", "", "a.b"):
        other = door.browser()
        other.cookies.set(name, forged)
        assert other.get("/exceptions").status_code == 303, forged


def test_headers_that_say_who_somebody_is_are_taken_off(door: AtTheDoor) -> None:
    forged = {"x-pollrise-session": "somebody else's", "X-Pollrise-Role": "lead", "x-pollrise-name": "Ann Lee"}
    assert door.browser().get("/exceptions", headers=forged).status_code == 303
    browser = door.signed_in()
    (session,) = [value for name, value in browser.cookies.items() if "_session_" in name]
    mark = signing_in.mark_of(session.partition(".")[0])
    assert json.loads(browser.get("/exceptions", headers=forged).text) == {"x-pollrise-session": mark}


def test_a_socket_is_refused_unsigned_and_with_forged_headers(door: AtTheDoor) -> None:
    door.added()
    for headers in ({}, {"X-Pollrise-Session": "0" * 64}, {"Cookie": "pollrise_session_1=x"}):
        with pytest.raises(InvalidStatus) as refused, door.socket(None, **headers):
            pass
        assert refused.value.response.status_code == 403


def test_a_socket_is_refused_with_a_first_password_that_was_not_changed(door: AtTheDoor) -> None:
    browser, first = door.browser(), staffing.add_person(door.office, ANN)
    sign_in(browser, ANN.name, first)
    with pytest.raises(InvalidStatus), door.socket(browser):
        pass


def test_a_socket_lives_as_long_as_its_session(door: AtTheDoor) -> None:
    browser = door.signed_in("Bo Tran", Role.DESK)
    with door.socket(browser, **{"X-Pollrise-Session": "forged"}) as live:
        (session,) = [value for name, value in browser.cookies.items() if "_session_" in name]
        assert live.recv(timeout=5) == signing_in.mark_of(session.partition(".")[0])
        live.send("still here")
        assert live.recv(timeout=5) == "still here"
        staffing.add_person(door.office, Person("Ann Lee", Role.LEAD))
        ended = time.monotonic()
        staffing.end_account(door.office, "Bo Tran")
        with pytest.raises(ConnectionClosed) as closed:
            live.recv(timeout=SOON)
        assert time.monotonic() - ended < SOON
        assert closed.value.rcvd is not None
        assert closed.value.rcvd.code == GONE
    assert browser.get("/exceptions").status_code == 303


def test_a_socket_is_closed_when_its_person_signs_out_in_another_tab(door: AtTheDoor) -> None:
    browser = door.signed_in()
    with door.socket(browser) as live:
        live.recv(timeout=5)
        mark = signing_in.mark_of(
            next(value for name, value in browser.cookies.items() if "_session_" in name).partition(".")[0]
        )
        found = signing_in.session_of(door.office, mark)
        assert found is not None
        signing_in.sign_out(door.office, found)
        with pytest.raises(ConnectionClosed):
            live.recv(timeout=SOON)


def test_a_changed_role_does_not_end_the_session(door: AtTheDoor) -> None:
    browser = door.signed_in("Bo Tran", Role.DESK)
    with door.socket(browser) as live:
        mark = str(live.recv(timeout=5))
        staffing.change_role(door.office, "Bo Tran", Role.VIEWER)
        time.sleep(2.2)
        live.send("on")
        assert live.recv(timeout=5) == "on"
        found = door.people.of(mark)
        assert found is not None
        assert found.role is Role.VIEWER


@pytest.mark.parametrize("host", ["elsewhere.example", "127.0.0.1.elsewhere.example", "", "192.0.2.1"])
def test_a_name_that_is_not_the_boards_is_not_answered(door: AtTheDoor, host: str) -> None:
    browser = door.signed_in()
    assert browser.get("/exceptions", headers={"host": host}).status_code == 421
    assert browser.get("/sign-in", headers={"host": host}).status_code == 421


def test_a_socket_under_another_name_is_refused(door: AtTheDoor) -> None:
    cookies = "; ".join(f"{name}={value}" for name, value in door.signed_in().cookies.items())
    port = int(door.address.rpartition(":")[2])
    for name, opens in (("elsewhere.example", False), ("localhost", True)):
        with ExitStack() as stack:
            if not opens:
                stack.enter_context(pytest.raises(InvalidStatus))
            raw = stack.enter_context(socket.create_connection(("127.0.0.1", port)))
            at = f"ws://{name}:{port}/live"
            stack.enter_context(connect(at, sock=raw, additional_headers={"Cookie": cookies}, proxy=None))


def test_a_board_that_listens_everywhere_is_reached_under_any_address_of_a_machine(tmp_path: Path) -> None:
    with a_door(tmp_path, HOST="0.0.0.0") as door:
        browser = door.browser()
        assert browser.get("/sign-in", headers={"host": "192.0.2.7:8501"}).status_code == 200
        assert browser.get("/sign-in", headers={"host": "elsewhere.example"}).status_code == 421


def test_every_answer_is_guarded_against_being_taken_for_something_else(door: AtTheDoor) -> None:
    for browser in (door.browser(), door.signed_in()):
        answer = browser.get("/exceptions")
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert answer.headers["x-frame-options"] == "SAMEORIGIN"


def test_the_first_page_of_a_role_is_found_under_its_name_too(door: AtTheDoor) -> None:
    there = door.signed_in("Bo Tran", Role.DESK).get("/county?wall=1")
    assert (there.status_code, there.headers["location"]) == (307, "/?wall=1")
    rover = door.signed_in("Ro Bell", Role.ROVER)
    assert rover.get("/rovers").headers["location"] == "/"
    assert rover.get("/exceptions").status_code == 200
