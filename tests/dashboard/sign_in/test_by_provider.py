"""Single sign-on over real HTTP: whoever the provider vouches for is in; nothing unsigned, foreign or old is taken."""

from collections.abc import Iterator
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import httpx
import pytest

from county import desk, signing_in, staffing
from county.domain.people import Role
from county.signing_in import WrongPassword
from tests.dashboard.sign_in.a_door import ANN, AtTheDoor, a_door
from tests.dashboard.sign_in.a_provider import CLIENT, SECRET, AProvider, a_provider

LONG_AGO, FAR_AHEAD = 1_000_000_000, 4_000_000_000
"""The years 2001 and 2096: fixed, because tests that run side by side must have the same names."""


@pytest.fixture
def provider() -> Iterator[AProvider]:
    with a_provider() as made:
        yield made


@pytest.fixture
def door(tmp_path: Path, provider: AProvider) -> Iterator[AtTheDoor]:
    """A board whose county has this provider, and Ann Lee on it."""
    settings = {
        "OIDC_ISSUER": provider.address,
        "OIDC_CLIENT_ID": CLIENT,
        "OIDC_CLIENT_SECRET": SECRET,
        "BOARD_ADDRESS": "http://127.0.0.1:PORT",
    }
    with a_door(tmp_path, **settings) as at:
        staffing.add_person(at.office, ANN, known_as="ann.lee@county.example")
        yield at


def went_there(browser: httpx.Client, to: str = "/") -> str:
    """To the provider and as far as its door back; the address on this board that it sends the browser to."""
    sent = browser.get(f"/sign-in/provider?next={to}")
    assert sent.status_code == 303
    back = httpx.get(sent.headers["location"], trust_env=False)
    return str(back.headers["location"])


def signed_in(browser: httpx.Client) -> bool:
    return browser.get("/exceptions").status_code == 200


def refused(door: AtTheDoor, browser: httpx.Client, back: str) -> str:
    """Come back and be refused; why, as it is written down."""
    answer = browser.get(back)
    assert answer.status_code == 403
    assert "Nobody was signed in" in answer.text
    assert not signed_in(browser)
    return signing_in.failed_sign_ins(door.office)[0].why


def test_a_person_whom_the_provider_vouches_for_is_in_the_same_session_as_any_other(
    door: AtTheDoor, provider: AProvider
) -> None:
    browser = door.browser()
    assert "Sign in with the county" in browser.get("/sign-in").text
    done = browser.get(went_there(browser, "/exceptions"))
    assert (done.status_code, done.headers["location"]) == (303, "/exceptions")
    assert signed_in(browser)
    fact = desk.ledger_pages(door.office)[-1]
    assert (fact["person"], fact["did"], fact["how"], fact["role"]) == ("Ann Lee", "signed-in", "provider", "lead")
    (line,) = [line for line in done.headers.get_list("set-cookie") if "_session_" in line]
    assert "HttpOnly" in line
    assert "SameSite=lax" in line


def test_the_provider_is_asked_with_state_nonce_and_a_challenge_that_differ_each_time(
    door: AtTheDoor, provider: AProvider
) -> None:
    browser = door.browser()
    for _ in range(2):
        browser.get(went_there(browser))
    one, other = provider.asked
    for name in ("state", "nonce", "code_challenge"):
        assert len(one[name]) >= 30
        assert one[name] != other[name]
    assert one["code_challenge_method"] == "S256"
    assert one["response_type"] == "code"
    assert one["redirect_uri"] == f"{door.address}/sign-in/back"
    assert SECRET not in str(provider.asked)


def test_a_first_password_is_good_no_more_once_its_person_comes_by_the_provider(door: AtTheDoor) -> None:
    first = staffing.reset_password(door.office, "Ann Lee")
    browser = door.browser()
    browser.get(went_there(browser))
    assert signed_in(browser)
    with pytest.raises(WrongPassword):
        signing_in.check_password(door.office, "Ann Lee", first)


def test_another_state_than_was_sent_signs_nobody_in(door: AtTheDoor, provider: AProvider) -> None:
    browser = door.browser()
    provider.state = "another"
    assert "state" in refused(door, browser, went_there(browser))
    assert provider.tokens_given == 0


def test_whoever_did_not_begin_here_cannot_come_back_here(door: AtTheDoor, provider: AProvider) -> None:
    attacker, victim = door.browser(), door.browser()
    back = went_there(attacker)
    assert "not begun in this browser" in refused(door, victim, back)
    went_there(victim)
    assert "state" in refused(door, victim, back)
    assert provider.tokens_given == 0


def test_a_way_back_is_good_once(door: AtTheDoor) -> None:
    browser = door.browser()
    back = went_there(browser)
    assert browser.get(back).status_code == 303
    other = door.browser()
    other.cookies.update(browser.cookies)
    assert browser.get(back).status_code == 403


@pytest.mark.parametrize(
    ("claims", "why"),
    [
        ({"nonce": "another"}, "nonce"),
        ({"nonce": None}, "nonce"),
        ({"aud": "another board"}, "aud"),
        ({"aud": None}, "aud"),
        ({"aud": ["another board"]}, "aud"),
        ({"iss": "https://elsewhere.example"}, "iss"),
        ({"iss": None}, "iss"),
        ({"exp": LONG_AGO}, "expired"),
        ({"exp": None}, "exp"),
        ({"iat": FAR_AHEAD}, "future"),
        ({"azp": "another board"}, "azp"),
        ({"email": None}, "does not say email"),
        ({"email": ["ann.lee@county.example"]}, "does not say email"),
        ({"email_verified": False}, "not verified"),
        ({"email_verified": None}, "not verified"),
        ({"email_verified": "true"}, "not verified"),
    ],
    ids=str,
)
def test_a_wrong_claim_signs_nobody_in(
    door: AtTheDoor, provider: AProvider, claims: dict[str, object], why: str
) -> None:
    browser = door.browser()
    provider.claims = claims
    assert why in refused(door, browser, went_there(browser)).casefold()


@pytest.mark.parametrize("signed_with", ["another", "secret", "public", "nobody"])
def test_an_answer_without_the_providers_own_signature_signs_nobody_in(
    door: AtTheDoor, provider: AProvider, signed_with: str
) -> None:
    browser = door.browser()
    provider.signed_with = signed_with
    assert "not to be trusted" in refused(door, browser, went_there(browser))


def test_somebody_whom_the_board_does_not_know_is_told_so(door: AtTheDoor, provider: AProvider) -> None:
    browser = door.browser()
    provider.email = "stranger@county.example"
    answer = browser.get(went_there(browser))
    assert answer.status_code == 403
    assert "You are not on this board" in answer.text
    assert "stranger@county.example" in answer.text
    assert not signed_in(browser)
    written = signing_in.failed_sign_ins(door.office)[0]
    assert (written.person, written.why) == ("", "provider: nobody is known so")


def test_somebody_whose_account_has_ended_is_not_let_in(door: AtTheDoor) -> None:
    door.added("Bo Tran", Role.LEAD)
    staffing.end_account(door.office, "Ann Lee")
    browser = door.browser()
    assert browser.get(went_there(browser)).status_code == 403
    assert not signed_in(browser)


def test_the_role_is_the_countys_and_not_the_providers(door: AtTheDoor, provider: AProvider) -> None:
    door.added("Bo Tran", Role.LEAD)
    staffing.change_role(door.office, "Ann Lee", Role.VIEWER)
    provider.claims = {"role": "lead", "roles": ["lead"]}
    browser = door.browser()
    browser.get(went_there(browser))
    assert desk.ledger_pages(door.office)[-1]["role"] == "viewer"


def test_what_the_provider_calls_somebody_is_text_and_never_markup(door: AtTheDoor, provider: AProvider) -> None:
    provider.email = "<script>alert(1)</script>@x"
    browser = door.browser()
    assert "<script>" not in browser.get(went_there(browser)).text


def test_a_refusal_of_the_providers_is_said(door: AtTheDoor) -> None:
    browser = door.browser()
    sent = browser.get("/sign-in/provider")
    state = parse_qs(urlsplit(sent.headers["location"]).query)["state"][0]
    assert "access_denied" in refused(door, browser, f"/sign-in/back?error=access_denied&state={state}")


def test_a_provider_that_calls_itself_by_another_name_is_not_gone_to(door: AtTheDoor, provider: AProvider) -> None:
    provider.issuer = "https://elsewhere.example"
    answer = door.browser().get("/sign-in/provider")
    assert answer.status_code == 502
    assert "calls itself by another name" in answer.text


def test_a_provider_out_of_reach_leaves_the_other_way_in(tmp_path: Path) -> None:
    settings = {
        "OIDC_ISSUER": "http://127.0.0.1:9",
        "OIDC_CLIENT_ID": CLIENT,
        "OIDC_CLIENT_SECRET": SECRET,
        "BOARD_ADDRESS": "http://127.0.0.1:PORT",
    }
    with a_door(tmp_path, **settings) as door:
        answer = door.browser().get("/sign-in/provider")
        assert answer.status_code == 502
        assert "cannot be reached" in answer.text
        assert door.signed_in().get("/exceptions").status_code == 200


def test_without_a_provider_there_is_no_such_way(tmp_path: Path) -> None:
    with a_door(tmp_path) as door:
        browser = door.browser()
        assert "county's account" not in browser.get("/sign-in").text
        assert browser.get("/sign-in/provider").status_code == 404
        assert browser.get("/sign-in/back?code=1&state=2").status_code == 404
