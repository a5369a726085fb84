"""Signing in, a password of one's own, signing out: as a browser does it, without any script."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import httpx
import pytest

from county import desk, signing_in, staffing
from county.domain.people import Person, Role
from county.person_facts import REAL
from dashboard.people_now import PeopleNow
from dashboard.sign_in.door import door_of
from tests.dashboard.sign_in.a_door import ANN, OWN, AtTheDoor, a_door, behind, fields, sent, served, sign_in
from tests.ingest.a_process import free_port


@pytest.fixture
def door(tmp_path: Path) -> Iterator[AtTheDoor]:
    with a_door(tmp_path) as at:
        yield at


def session_cookie(browser: httpx.Client) -> str:
    return next((value for name, value in browser.cookies.items() if "_session_" in name), "")


def given(response: httpx.Response, what: str = "session") -> str:
    """The Set-Cookie line for one of the board's cookies."""
    return next(line for line in response.headers.get_list("set-cookie") if f"_{what}_" in line)


def last_fact(door: AtTheDoor) -> dict[str, object]:
    return desk.ledger_pages(door.office)[-1]


def test_a_person_signs_in_and_comes_to_where_they_wanted_to_go(door: AtTheDoor) -> None:
    browser, password = door.browser(), door.added()
    asked = browser.get("/exceptions?case=P014.fire")
    assert (asked.status_code, asked.headers["location"]) == (303, "/sign-in?next=%2Fexceptions%3Fcase%3DP014.fire")
    done = sent(browser, asked.headers["location"], {"name": "ann  LEE", "password": password})
    assert (done.status_code, done.headers["location"]) == (303, "/exceptions?case=P014.fire")
    assert browser.get("/exceptions").status_code == 200
    fact = last_fact(door)
    assert (fact["kind"], fact["person"], fact["did"], fact["how"], fact["by"]) == (
        "person",
        "Ann Lee",
        "signed-in",
        "password",
        "Ann Lee",
    )


def test_a_wrong_password_and_an_unknown_name_are_answered_alike_and_written_down(door: AtTheDoor) -> None:
    browser, password = door.browser(), door.added()
    wrong, unknown = sign_in(browser, "Ann Lee", "x" * 20), sign_in(browser, password, password)
    assert wrong.status_code == unknown.status_code == 403
    for answer in (wrong, unknown):
        assert "That name and password do not go together." in answer.text
    assert not session_cookie(browser)
    newest, before = signing_in.failed_sign_ins(door.office)
    assert (before.person, before.address, before.why) == ("Ann Lee", "127.0.0.1", "not the right password")
    # whoever types the password into the field of the name must not find it written down
    assert (newest.person, newest.why) == ("", "nobody of that name")
    assert desk.ledger_pages(door.office)[-1]["did"] == "added"


def test_the_session_is_a_new_one_whatever_the_browser_brought_along(door: AtTheDoor) -> None:
    attacker, password = door.signed_in("Mallory", Role.VIEWER), door.added()
    planted = session_cookie(attacker)
    victim = door.browser()
    page = victim.get("/sign-in")
    cookies = "; ".join(f"{name}={value}" for name, value in {**attacker.cookies, **victim.cookies}.items())
    done = victim.post(
        "/sign-in",
        data=fields(page.text) | {"name": "Ann Lee", "password": password},
        headers={"origin": door.address, "cookie": cookies},
    )
    assert done.status_code == 303
    begun = given(done).partition(";")[0].partition("=")[2]
    assert begun not in ("", planted)
    # and the planted one is nobody's any more, least of all the victim's
    assert attacker.get("/exceptions").status_code == 303


def test_the_cookies_are_out_of_reach_of_scripts_and_other_sites(door: AtTheDoor) -> None:
    browser, password = door.browser(), door.added()
    form = given(browser.get("/sign-in"), "form")
    assert "HttpOnly" in form
    assert "SameSite=strict" in form
    session = given(sign_in(browser, "Ann Lee", password))
    for flag in ("HttpOnly", "SameSite=lax", "Path=/"):
        assert flag in session
    assert "Secure" not in session
    assert "Domain" not in session
    assert "Max-Age" not in session
    assert "expires" not in session.lower()


def test_behind_https_every_cookie_is_secure_and_bound_to_its_host(tmp_path: Path) -> None:
    with a_door(tmp_path, BOARD_ADDRESS="https://board.county.example") as door:
        browser, password = door.browser(), door.added()
        host = {"host": "board.county.example"}
        page = browser.get("/sign-in", headers=host)
        assert given(page, "form").startswith("__Host-pollrise_form_")
        cookie = given(page, "form").partition(";")[0]
        done = browser.post(
            "/sign-in",
            data=fields(page.text) | {"name": "Ann Lee", "password": password},
            headers={**host, "origin": "https://board.county.example", "cookie": cookie},
        )
        session = given(done)
        assert session.startswith("__Host-pollrise_session_")
        assert "Secure" in session
        assert "Secure" in given(done, "known")


@pytest.mark.parametrize(
    ("headers", "drop_cookie", "word"),
    [
        ({"origin": "https://elsewhere.example"}, False, None),
        ({"sec-fetch-site": "cross-site"}, False, None),
        ({}, True, None),
        ({}, False, ""),
        ({}, False, "made-up"),
    ],
    ids=["another site's origin", "said by the browser to be cross-site", "no cookie", "no word", "another word"],
)
def test_a_form_from_elsewhere_signs_nobody_in(
    door: AtTheDoor, headers: dict[str, str], drop_cookie: bool, word: str | None
) -> None:
    browser, password = door.browser(), door.added()
    form = fields(browser.get("/sign-in").text) | {"name": "Ann Lee", "password": password}
    if drop_cookie:
        browser.cookies.clear()
    if word is not None:
        form["form_word"] = word
    refused = browser.post("/sign-in", data=form, headers={"origin": door.address, **headers})
    assert refused.status_code == 403
    assert not session_cookie(browser)
    # the same form as the page itself sends it is taken
    assert sign_in(browser, "Ann Lee", password).status_code == 303


def test_another_browsers_form_word_does_not_fit(door: AtTheDoor) -> None:
    browser, password = door.browser(), door.added()
    browser.get("/sign-in")
    foreign = fields(door.browser().get("/sign-in").text)
    refused = browser.post("/sign-in", data=foreign | {"name": "Ann Lee", "password": password})
    assert refused.status_code == 403


@pytest.mark.parametrize(
    "to", ["https://elsewhere.example/", "//elsewhere.example", "/\\elsewhere.example", "javascript:0"]
)
def test_nobody_is_led_to_another_site(door: AtTheDoor, to: str) -> None:
    browser, password = door.browser(), door.added()
    done = sent(browser, "/sign-in", {"name": "Ann Lee", "password": password, "next": to})
    assert (done.status_code, done.headers["location"]) == (303, "/")


def test_a_first_password_opens_nothing_but_the_page_where_it_is_changed(door: AtTheDoor) -> None:
    first = staffing.add_person(door.office, ANN)
    browser = door.browser()
    assert sign_in(browser, "Ann Lee", first, "/exceptions").headers["location"] == "/sign-in/password"
    assert browser.get("/exceptions").headers["location"] == "/sign-in/password?next=%2Fexceptions"
    assert browser.get("/exceptions", headers={"accept": "*/*"}).status_code == 401
    for new, says in (
        ("short", "at least 15 characters"),
        ("aaaaaaaaaaaaaaaaaaaa", "different characters"),
        ("Ann Lee password 1234567", "more than your name"),
        (first, "another one than before"),
    ):
        refused = sent(browser, "/sign-in/password", {"former": first, "new": new, "again": new})
        assert refused.status_code == 422
        assert says in refused.text
    typed = {"former": first, "new": OWN, "again": f"{OWN}!"}
    assert "not typed the same twice" in sent(browser, "/sign-in/password", typed).text
    wrong = sent(browser, "/sign-in/password", {"former": "x" * 20, "new": OWN, "again": OWN})
    assert wrong.status_code == 403
    before = session_cookie(browser)
    done = sent(browser, "/sign-in/password?next=/exceptions", {"former": first, "new": OWN, "again": OWN})
    assert (done.status_code, done.headers["location"]) == (303, "/exceptions")
    assert session_cookie(browser) != before
    assert browser.get("/exceptions").status_code == 200
    assert sign_in(door.browser(), "Ann Lee", first).status_code == 403
    assert sign_in(door.browser(), "Ann Lee", OWN).headers["location"] == "/"


def test_a_changed_password_signs_out_every_other_browser(door: AtTheDoor) -> None:
    password = door.added()
    one, other = door.browser(), door.browser()
    sign_in(one, "Ann Lee", password)
    sign_in(other, "Ann Lee", password)
    sent(one, "/sign-in/password", {"former": password, "new": OWN, "again": OWN})
    assert one.get("/exceptions").status_code == 200
    wait_until_signed_out(door, other)


def wait_until_signed_out(door: AtTheDoor, browser: httpx.Client) -> None:
    """Within seconds, because a session is taken for good for a moment without looking."""
    until = REAL.now() + timedelta(seconds=5)
    while browser.get("/exceptions").status_code == 200:
        assert REAL.now() < until, "still signed in"


def test_signing_out_ends_the_session_itself_and_not_only_the_cookie(door: AtTheDoor) -> None:
    browser = door.signed_in()
    kept = dict(browser.cookies)
    done = sent(browser, "/sign-out", {"note": "Call Mill Creek back at 14:30"})
    assert (done.status_code, done.headers["location"]) == (303, "/sign-in")
    assert not session_cookie(browser)
    thief = door.browser()
    thief.cookies.update(kept)
    assert thief.get("/exceptions").status_code == 303
    handed, out = desk.ledger_pages(door.office)[-2:]
    assert (handed["kind"], handed["note"], handed["by"]) == ("hand-over", "Call Mill Creek back at 14:30", "Ann Lee")
    assert (out["did"], out["how"]) == ("signed-out", "out")


def test_a_viewer_hands_nothing_over(door: AtTheDoor) -> None:
    browser = door.signed_in("Vi Moss", Role.VIEWER)
    assert "note" not in browser.get("/sign-out").text.partition("<form")[2].partition("</form>")[0]
    sent(browser, "/sign-out", {"note": "smuggled in"})
    assert all(entry["kind"] != "hand-over" for entry in desk.ledger_pages(door.office))


def test_a_session_survives_a_board_started_anew(door: AtTheDoor) -> None:
    browser = door.signed_in()
    anew = door_of(door.office, PeopleNow(door.office))
    port = free_port()
    with served(behind(anew), port):
        other = httpx.Client(base_url=f"http://127.0.0.1:{port}", cookies=browser.cookies, trust_env=False)
        assert other.get("/exceptions").status_code == 200
        other.close()


@pytest.mark.parametrize(
    ("role", "later", "lasts"),
    [
        (Role.DESK, timedelta(minutes=59), True),
        (Role.DESK, timedelta(minutes=61), False),
        (Role.VIEWER, timedelta(hours=23), True),
        (Role.VIEWER, timedelta(hours=24), False),
    ],
)
def test_a_session_ends_when_it_is_not_used_or_too_old(
    door: AtTheDoor, role: Role, later: timedelta, lasts: bool
) -> None:
    door.added("Bo Tran", role)
    account = staffing.accounts(door.office)[0]
    mark = signing_in.mark_of(signing_in.begin_session(door.office, account, signing_in.BY_PASSWORD))
    assert (signing_in.session_of(door.office, mark, REAL.now() + later) is not None) is lasts
    # once over it stays over, and the record says so once
    assert (signing_in.session_of(door.office, mark) is not None) is lasts
    ends = [page for page in desk.ledger_pages(door.office) if page.get("did") == "signed-out"]
    assert len(ends) == (0 if lasts else 1)


def test_a_session_that_is_used_goes_on(door: AtTheDoor) -> None:
    door.added()
    account = staffing.accounts(door.office)[0]
    mark = signing_in.mark_of(signing_in.begin_session(door.office, account, signing_in.BY_PASSWORD))
    begun = REAL.now()
    signing_in.session_used(door.office, mark)
    assert signing_in.session_of(door.office, mark, begun + timedelta(minutes=59, seconds=59)) is not None


def test_whoever_is_signed_in_is_not_asked_again(door: AtTheDoor) -> None:
    browser = door.signed_in()
    asked = browser.get("/sign-in?next=/exceptions")
    assert (asked.status_code, asked.headers["location"]) == (303, "/exceptions")


def test_a_form_larger_than_any_person_fills_in_is_refused(door: AtTheDoor) -> None:
    browser = door.browser()
    assert sign_in(browser, "Ann Lee", "x" * 30_000).status_code == 403


def test_the_pages_say_what_this_is_not_and_are_never_kept(door: AtTheDoor) -> None:
    page = door.browser().get("/sign-in")
    assert "This board does not call 911." in page.text
    assert "Rehearsal." in page.text
    assert page.headers["cache-control"] == "no-store"
    assert "frame-ancestors 'none'" in page.headers["content-security-policy"]
    assert "<script" not in page.text


def test_an_account_taken_back_starts_with_another_first_password(door: AtTheDoor) -> None:
    door.added()
    staffing.add_person(door.office, Person("Bo Tran", Role.LEAD))
    staffing.end_account(door.office, "Ann Lee")
    again = staffing.reset_password(door.office, "Ann Lee")
    assert sign_in(door.browser(), "Ann Lee", again).headers["location"] == "/sign-in/password"
