"""The office's messages on the sheet: on top until acknowledged, with script and without, with signal and without."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from county.domain.intake import Hand
from county.messaging import send
from tests.axe import faults
from tests.browser import PHONE
from tests.ingest.officers_page.a_county import County, a_phone
from tests.ingest.officers_page.by_hand import do_step, section, signed_in
from tests.ingest.officers_page.test_plain_sheet import shown
from tests.ingest.phones import CUT_OFF

COURT = "By order of the court polls stay open until 19:30.\nTell the line."
IN_CHARGE = {"role": "officer in charge"}


def tell(county: County, text: str = COURT, message: str = "m-1", *places: str) -> None:
    """A message as the desk sends it."""
    office = county.house.office
    hand = Hand("desk:Front desk", "Front desk", "endpoint", office.clock.now(), office.clock.word)
    roster = county.house.following.picture.roster
    send(office, roster, message, text, "chosen places", places or ("P014",), hand)
    county.house.following.catch_up()


def acknowledged(county: County, place: str = "P014") -> list[tuple[object, object]]:
    """Which messages a place has acknowledged, and who did."""
    return [(each["message"], each["role"]) for each in county.told(place) if each["kind"] == "message-seen"]


def test_it_stands_on_top_until_it_is_acknowledged(county: County) -> None:
    phone = a_phone(county)
    assert "Message from" not in shown(phone.get().text)
    tell(county)
    page = phone.get().text
    words = shown(page)
    assert (
        "Message from the central office, 05:15 By order of the court polls stay open until 19:30. Tell the line."
        in words
    )
    assert words.index("By order of the court") < words.index("Step 1 of 21")
    assert "By order of the court" not in shown(a_phone(county, "P015").get().text)
    answer = phone.post(form="seen", key="s1", message="m-1", **IN_CHARGE)
    assert (answer.status, answer.headers["location"]) == (303, "/at/P014?told=#messages")
    words = shown(phone.get().text)
    assert "Message from the central office" not in words
    assert "Messages read: 1 05:15, read 05:15 by officer in charge By order of the court" in words
    assert acknowledged(county) == [("m-1", "officer in charge")]


def test_it_comes_with_the_state_that_the_script_asks_for(county: County) -> None:
    phone = a_phone(county)
    before = phone.get("/state")
    tell(county)
    after = phone.get("/state", **{"if-none-match": before.headers["etag"]})
    assert after.status == 200
    assert 'data-message="m-1"' in after["messages"]
    same = phone.get("/state", **{"if-none-match": after.headers["etag"]})
    assert same.status == 304
    answer = phone.send({"form": "seen", "key": "s1", "message": "m-1", **IN_CHARGE})
    assert answer["receipts"][0]["outcome"] == "kept"
    assert "data-message" not in answer["state"]["messages"]
    again = phone.send({"form": "seen", "key": "s1", "message": "m-1", **IN_CHARGE})
    assert again["receipts"][0]["outcome"] == "already-held"
    assert len(acknowledged(county)) == 1


def test_both_phones_may_acknowledge_and_the_first_counts(county: County) -> None:
    tell(county)
    for number in (1, 2):
        a_phone(county).send({"form": "seen", "key": f"s{number}", "message": "m-1", "role": f"officer {number}"})
    (seen,) = county.house.following.picture.places["P014"].day.messages
    assert seen.seen_role == "officer 1"


def test_an_acknowledgement_names_a_message(county: County) -> None:
    assert a_phone(county).post(form="seen", key="s1", **IN_CHARGE).status == 422
    assert acknowledged(county) == []


def test_a_text_is_text(county: County) -> None:
    evil = '<script>alert(1)</script><img src=x onerror=alert(2)> & "quoted" {{ view }}'
    tell(county, evil)
    phone = a_phone(county)
    for text in (phone.get().text, phone.get("/state").text):
        assert "<script>alert" not in text
        assert "<img" not in text
    assert evil in shown(phone.get().text)


def test_every_place_acknowledges_for_itself(county: County) -> None:
    tell(county, COURT, "m-1", "P014", "P015")
    a_phone(county).post(form="seen", key="s1", message="m-1", **IN_CHARGE)
    assert "By order of the court" in shown(a_phone(county, "P015").get().text)
    assert acknowledged(county, "P015") == []


@pytest.fixture
def page(chromium: Browser, county: County) -> Iterator[Page]:
    """A phone with the sheet open."""
    context = chromium.new_context(**PHONE)  # type: ignore[arg-type]
    page = context.new_page()
    page.set_default_timeout(30_000)
    problems: list[str] = []
    page.on("pageerror", lambda error: problems.append(str(error)))
    yield signed_in(page, county.way_in())
    context.close()
    assert problems == []


def look(page: Page) -> None:
    """Have the page ask how things stand, as it does by itself every ten seconds."""
    page.wait_for_timeout(400)
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")


def test_it_arrives_on_an_open_sheet_and_disturbs_nothing_half_typed(page: Page, county: County) -> None:
    section(page).locator("[name=officers_present]").press_sequentially("1")
    tell(county)
    look(page)
    message = page.locator("#messages .message")
    expect(message).to_contain_text("Tell the line.")
    expect(page.get_by_role("link", name="Message")).to_be_visible()
    assert page.evaluate("document.activeElement.name") == "officers_present"
    page.keyboard.type("2")
    expect(section(page).locator("[name=officers_present]")).to_have_value("12")
    assert faults(page) == []
    page.emulate_media(color_scheme="dark")
    assert faults(page) == []
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    assert page.evaluate(CUT_OFF) == []
    page.evaluate("document.documentElement.style.fontSize = ''")
    page.get_by_role("link", name="Message").click()
    message.get_by_role("button", name="Read by the officer in charge").click()
    expect(message).to_have_count(0)
    expect(page.get_by_role("link", name="Message")).to_be_hidden()
    expect(page.locator("#messages")).to_contain_text("Messages read: 1")
    assert acknowledged(county) == [("m-1", "officer in charge")]
    expect(section(page).locator("[name=officers_present]")).to_have_value("12")
    assert faults(page) == []


def test_without_signal_it_is_kept_and_sent_with_the_time_it_was_read(page: Page, county: County) -> None:
    tell(county)
    look(page)
    message = page.locator("#messages .message")
    expect(message).to_be_visible()
    page.context.set_offline(True)
    message.get_by_role("button", name="Read by another officer").click()
    expect(message).to_contain_text("not yet at the central office")
    expect(message.locator("button").first).to_be_hidden()
    expect(page.locator("#strip")).to_contain_text("not yet at the central office: 1 report")
    do_step(page, "t-staffed")
    assert acknowledged(county) == []
    page.context.set_offline(False)
    page.evaluate("dispatchEvent(new Event('online'))")
    expect(page.locator("#strip .kept")).to_be_visible()
    expect(message).to_have_count(0)
    assert acknowledged(county) == [("m-1", "officer")]
    told = [each for each in county.told() if each["kind"] in ("message-seen", "step")]
    assert [each["kind"] for each in told] == ["message-seen", "step"], "in the order it was tapped"
    assert {each["stamp"] for each in told} == {"told"}
