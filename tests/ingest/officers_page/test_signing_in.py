"""Who opens a sheet, and who does not."""

import time

import pytest

from county.domain.senders import Sender
from county.errors import Busy
from county.guesses import FREE, LONGEST, Guesses
from county.upkeep import issue_key, revoke_keys
from tests.ingest.officers_page.a_county import County, Plain, a_phone, a_step


def until_forgotten(phone: Plain) -> None:
    """A key is remembered for a second, so that not every request asks the database."""
    until = time.monotonic() + 3
    while phone.get("/state").status == 200 and time.monotonic() < until:
        time.sleep(0.1)


def test_the_card_signs_in_and_the_key_leaves_the_address(shared_county: County) -> None:
    phone = Plain(shared_county)
    answer = phone.sign_in()
    assert (answer.status, answer.headers["location"]) == (303, "/at/P014")
    given = answer.headers["set-cookie"]
    assert "HttpOnly" in given
    assert "SameSite=strict" in given
    assert "Path=/at/P014" in given
    page = phone.get()
    assert page.status == 200
    assert "Brook Chapel" in page.text or "Grange Hall" in page.text
    assert shared_county.keys["P014"] not in page.text


def test_without_a_key_the_page_asks_for_it_and_takes_it_typed(shared_county: County) -> None:
    phone = Plain(shared_county)
    page = phone.get()
    assert page.status == 401
    assert "Key from the card" in page.text
    assert phone.post(form="sign-in", k=f" {shared_county.keys['P014']} ").status == 303
    assert phone.get().status == 200


def test_a_key_of_one_place_neither_reads_nor_writes_another(shared_county: County) -> None:
    phone = Plain(shared_county, "P015", cookie=shared_county.keys["P014"])
    assert phone.sign_in(shared_county.keys["P014"]).status == 403
    assert phone.get().status == 403
    assert phone.get("/state").status == 403
    assert phone.post(**a_step("staffed", officers_present="4")).status == 403
    assert phone.send(a_step("staffed", officers_present="4")).status == 403
    assert shared_county.told("P015") == []


def test_a_desk_key_opens_any_sheet(shared_county: County) -> None:
    phone = Plain(shared_county, cookie=shared_county.house.desk_key)
    assert phone.get().status == 200


def test_a_precinct_leads_to_its_place(shared_county: County) -> None:
    phone = Plain(shared_county, "14A")
    answer = phone.get("?k=abc")
    assert (answer.status, answer.headers["location"]) == (303, "/at/P014?k=abc")


def test_no_such_place_is_said_so(shared_county: County) -> None:
    answer = Plain(shared_county, "P999%3Cscript%3E").get()
    assert answer.status == 404
    assert "<script>" not in answer.text


def test_a_lost_card_is_harmless_once_its_key_was_ended(county: County) -> None:
    found, kept = a_phone(county), Plain(county)
    revoke_keys(county.house.office, Sender.at_place("P014"))
    fresh = issue_key(county.house.office, Sender.at_place("P014"))
    assert kept.sign_in(fresh).status == 303
    until_forgotten(found)
    page = found.get()
    assert page.status == 401
    assert "was ended" in page.text
    assert found.post(**a_step("staffed", officers_present="4")).status == 401
    assert found.sign_in().status == 401
    assert kept.get().status == 200
    assert county.told() == []


def test_guessed_keys_are_slowed_and_those_signed_in_are_not(county: County) -> None:
    inside = a_phone(county)
    assert inside.get().status == 200
    guesser = Plain(county)
    answers = [guesser.sign_in(f"pr_guess{number}") for number in range(FREE + 1)]
    assert [answer.status for answer in answers] == [401] * FREE + [429]
    assert int(answers[-1].headers["retry-after"]) >= 1
    assert "Wait" in answers[-1].text
    assert inside.get().status == 200
    assert inside.get("/state").status == 200


def test_the_wait_doubles_and_stays_short() -> None:
    now = [0.0]
    guesses = Guesses(timer=lambda: now[0])
    waits = []
    for _ in range(FREE + 8):
        guesses.was_wrong("10.0.0.1")
        try:
            guesses.may_try("10.0.0.1")
            waits.append(0)
        except Busy as busy:
            waits.append(busy.seconds)
            now[0] += busy.seconds
    assert waits == [0] * (FREE - 1) + [1, 2, 4, 8, 16, 30, 30, 30, 30]
    assert max(waits) == LONGEST
    guesses.may_try("10.0.0.2")


@pytest.mark.parametrize("origin", ["http://elsewhere.example", "null", "http://127.0.0.1:1"])
def test_a_form_from_another_site_is_refused(shared_county: County, origin: str) -> None:
    phone = a_phone(shared_county)
    phone.headers = {"origin": origin}
    body = b"form=step&key=x1&step=staffed&officers_present=4"
    answer = phone.ask(
        "POST", "/at/P014", body, {"content-type": "application/x-www-form-urlencoded", "origin": origin}
    )
    assert answer.status == 403
    answer = phone.send({"form": "step", "key": "x1", "step": "staffed", "officers_present": "4"}, origin=origin)
    assert answer.status == 403
    assert all(entry["key"] != "x1" for entry in shared_county.told())


def test_a_form_that_says_it_came_across_sites_is_refused(shared_county: County) -> None:
    phone = a_phone(shared_county)
    phone.headers = {"sec-fetch-site": "cross-site"}
    assert phone.post(**a_step("staffed", officers_present="4")).status == 403


def test_reports_are_not_taken_as_a_plain_form(shared_county: County) -> None:
    phone = a_phone(shared_county)
    body = b'{"forms": [{"form": "step"}]}'
    assert phone.ask("POST", "/at/P014/reports", body, {"content-type": "text/plain"}).status == 403


def test_a_page_may_load_nothing_from_elsewhere(shared_county: County) -> None:
    policy = a_phone(shared_county).get().headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "http" not in policy
