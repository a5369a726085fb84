"""Who opens a rover's page, and who does not."""

import time

from county.domain.senders import Sender
from county.guesses import FREE
from county.upkeep import issue_key, revoke_keys
from tests.ingest.rovers_page.a_county import County, Plain, a_phone, a_tap


def test_the_card_signs_in_and_the_key_leaves_the_address(shared_county: County) -> None:
    phone = Plain(shared_county)
    answer = phone.sign_in()
    assert (answer.status, answer.headers["location"]) == (303, "/rover/R03")
    given = answer.headers["set-cookie"]
    for part in ("HttpOnly", "SameSite=strict", "Path=/rover/R03"):
        assert part in given
    assert shared_county.keys["R03"] not in phone.get().text


def test_without_a_key_the_page_asks_for_it_and_takes_it_typed(shared_county: County) -> None:
    phone = Plain(shared_county)
    page = phone.get()
    assert page.status == 401
    assert "It is on the card of this rover" in page.text
    assert phone.post(form="sign-in", k=f" {shared_county.keys['R03']} ").status == 303
    assert phone.get().status == 200


def test_a_key_of_one_rover_neither_reads_nor_acts_for_another(county: County) -> None:
    county.jam()
    other = Plain(county, "R03", cookie=county.keys["R04"])
    assert other.sign_in(county.keys["R04"]).status == 403
    assert other.get().status == 403
    assert "Mill School" not in other.get().text
    assert other.get("/state").status == 403
    assert other.post(**a_tap("accept")).status == 403
    assert other.send(a_tap("accept")).status == 403
    assert county.actions("rover:R04") == []
    # nor through its own page
    own = a_phone(county, "R04")
    assert own.post(**a_tap("accept")).status == 422
    assert county.case("P014.scanner-jam.SC-0141")["state"] == "assigned"


def test_a_places_and_a_desks_key_open_no_rovers_page(shared_county: County) -> None:
    for key in (shared_county.house.place_key, shared_county.house.desk_key):
        assert Plain(shared_county, cookie=key).get().status == 403


def test_a_lost_card_is_harmless_once_its_key_was_ended(county: County) -> None:
    found, kept = a_phone(county), Plain(county)
    revoke_keys(county.house.office, Sender.on_the_road("R03"))
    assert kept.sign_in(issue_key(county.house.office, Sender.on_the_road("R03"))).status == 303
    until = time.monotonic() + 3
    while found.get("/state").status == 200 and time.monotonic() < until:
        time.sleep(0.1)
    assert found.get().status == 401
    assert kept.get().status == 200


def test_guessed_keys_are_slowed_on_rovers_pages_and_sheets_together(county: County) -> None:
    inside = a_phone(county)
    guesser = Plain(county)
    answers = [guesser.sign_in(f"pr_guess{number}") for number in range(FREE)]
    answers.append(guesser.ask("GET", "/at/P014?k=pr_guess", None, {}))
    assert [answer.status for answer in answers] == [401] * FREE + [429]
    assert inside.get("/state").status == 200


def test_a_form_from_another_site_is_refused(county: County) -> None:
    county.jam()
    phone = a_phone(county)
    for origin in ("http://elsewhere.example", "null"):
        assert phone.send(a_tap("accept"), origin=origin).status == 403
    phone.headers = {"sec-fetch-site": "cross-site"}
    assert phone.post(**a_tap("accept")).status == 403
    assert county.actions() == []
