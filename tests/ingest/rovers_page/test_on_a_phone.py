"""The rover's page in a real browser: assignments appear, taps are kept without signal, one thumb, a slow link."""

import time

import pytest
from playwright.sync_api import Page, expect

from county.domain.senders import Sender
from county.upkeep import issue_key, revoke_keys
from tests.axe import faults
from tests.ingest.phones import CUT_OFF, NewPhone
from tests.ingest.rovers_page.a_county import JAM, POWER, County, a_county

THUMB = 44  # CSS pixels: the smallest side of what a thumb must hit, WCAG 2.2 success criterion 2.5.5


def signed_in(page: Page, county: County, rover: str = "R03") -> Page:
    """Open the page by the card's address and wait until its script has begun."""
    page.goto(county.way_in(rover))
    expect(page.locator("html[data-ready]")).to_be_attached()
    return page


def tap(page: Page, word: str, at: int = 0) -> None:
    page.locator("article").nth(at).get_by_role("button", name=word, exact=True).click()


def test_an_assignment_appears_within_three_seconds_and_goes_its_way_by_taps(
    county: County, new_phone: NewPhone
) -> None:
    page = signed_in(new_phone(), county)
    expect(page.locator("h1")).to_contain_text("Nothing is assigned to you.")
    county.jam()
    given = time.monotonic()
    expect(page.locator("article h2")).to_have_text("Mill School", timeout=5_000)
    assert time.monotonic() - given < 3
    expect(page.locator("h1")).to_have_text("Next: Mill School.")
    for word, state in (("Accepted", "assigned"), ("Under way", "under-way"), ("On site", "on-site")):
        tap(page, word)
        expect(page.locator("article dl")).to_contain_text(word)
        assert county.case(JAM)["state"] == state
    assert county.case(JAM)["accepted_at"]
    page.get_by_label("What was done?").fill("cleared the path, two of us")
    tap(page, "Cleared: tell the central office")
    expect(page.locator("article")).to_have_count(0)
    expect(page.locator("#cleared")).to_contain_text("Mill School: scanner jam")
    assert county.case(JAM)["state"] == "cleared"


def test_taps_without_signal_are_kept_and_sent_with_the_time_they_happened(county: County, new_phone: NewPhone) -> None:
    county.jam()
    page = signed_in(new_phone(), county)
    page.evaluate("navigator.serviceWorker.ready")
    page.wait_for_function("async () => Boolean(await caches.match(`${location.origin}/rover/R03`))")
    page.context.set_offline(True)
    tap(page, "Under way")
    expect(page.locator("article .sofar")).to_contain_text("Under way 06:30: kept on this phone, not yet at the")
    tap(page, "On site")
    expect(page.locator("#strip")).to_contain_text("not yet at the central office: 2 reports.")
    page.reload()
    expect(page.locator("article .sofar")).to_contain_text("On site")
    expect(page.get_by_label("What was done?")).to_be_visible()
    assert county.actions() == []
    page.wait_for_timeout(1_200)
    page.context.set_offline(False)
    page.evaluate("dispatchEvent(new Event('online'))")
    expect(page.locator("#strip")).to_contain_text("Everything you told is at the central office.")
    assert [entry["action"] for entry in county.actions()] == ["under-way", "on-site"]
    assert all(entry["stamp"] == "told" for entry in county.actions())
    assert all(entry["received_at"] > entry["happened_at"] for entry in county.actions())


def test_what_the_office_could_not_take_is_said_and_set_aside(county: County, new_phone: NewPhone) -> None:
    county.jam()
    page = signed_in(new_phone(), county)
    page.context.set_offline(True)
    page.locator("summary", has_text="Cleared").click()
    page.get_by_label("What was done?").fill("done")
    county.assign(JAM, "R04")
    page.wait_for_timeout(1_100)
    tap(page, "Cleared: tell the central office")
    page.context.set_offline(False)
    page.evaluate("dispatchEvent(new Event('online'))")
    expect(page.locator("#strip .lost")).to_contain_text("this case is rover R04's now. It is set aside there.")
    expect(page.locator("article")).to_have_count(0)
    page.get_by_role("button", name="Seen").click()
    expect(page.locator("#strip .lost")).to_have_count(0)
    assert county.case(JAM)["state"] == "assigned"
    assert len(county.house.aside()) == 1


def test_half_written_words_outlive_what_comes_in_meanwhile(county: County, new_phone: NewPhone) -> None:
    county.jam()
    page = signed_in(new_phone(), county)
    page.locator("summary", has_text="Cannot").click()
    why = page.locator("article", has_text="Mill School").get_by_label("Why not?")
    why.press_sequentially("road clo")
    county.trouble("P015", "no-power")
    county.assign(POWER)
    expect(page.locator("article")).to_have_count(2)
    expect(why).to_be_focused()
    page.keyboard.type("sed")
    page.locator("h1").click()
    county.house.act(JAM, {"key": "n1", "action": "accept", "rover": "R03"})
    expect(page.locator("article", has_text="Mill School").locator("dl")).to_contain_text("Accepted")
    expect(why).to_have_value("road closed")


def test_cannot_asks_why_and_the_case_leaves_the_page(county: County, new_phone: NewPhone) -> None:
    county.jam()
    page = signed_in(new_phone(), county)
    page.locator("summary", has_text="Cannot").click()
    tap(page, "Cannot: tell the central office")
    assert county.actions() == []  # the browser asks for the reason first
    page.get_by_label("Why not?").fill("flat tyre")
    tap(page, "Cannot: tell the central office")
    expect(page.locator("article")).to_have_count(0)
    assert county.actions()[0]["note"] == "flat tyre"


def test_a_script_typed_as_a_note_is_shown_as_text(county: County, new_phone: NewPhone) -> None:
    evil = "<img src=x onerror=alert(1)><script>alert(2)</script>"
    page = signed_in(new_phone(), county)
    county.trouble("P014", "scanner-jam", device="SC-0141", note=evil)
    county.assign(JAM)
    expect(page.locator("article .says")).to_contain_text(evil)
    page.locator("summary", has_text="Cleared").click()
    page.get_by_label("What was done?").fill(evil)
    page.context.set_offline(True)
    tap(page, "Cleared: tell the central office")
    expect(page.locator("article .sofar")).to_contain_text("Cleared")
    assert page.locator("main img, main script").count() == 0


def test_everything_is_done_by_keyboard_alone(county: County, new_phone: NewPhone) -> None:
    county.jam()
    page = signed_in(new_phone(), county)
    page.keyboard.press("Tab")
    expect(page.locator(".skip")).to_be_focused()
    page.keyboard.press("Enter")
    for word in ("Accepted", "Under way", "On site"):
        tab_to(page, word)
        page.keyboard.press("Enter")
        expect(page.locator("article dl")).to_contain_text(word)
    tab_to(page, "")  # the field for what was done
    page.keyboard.type("by keyboard")
    tab_to(page, "Cleared: tell the central office")
    page.keyboard.press("Enter")
    expect(page.locator("article")).to_have_count(0)
    assert [entry["action"] for entry in county.actions()] == ["accept", "under-way", "on-site", "clear"]
    assert county.actions()[-1]["note"] == "by keyboard"


def tab_to(page: Page, words: str) -> None:
    """Press Tab until a button with these words, or where there are none a field, has the focus."""
    for _ in range(30):
        page.keyboard.press("Tab")
        name, said = page.evaluate("[document.activeElement.tagName, document.activeElement.textContent.trim()]")
        if (name, said) == ("BUTTON", words) or (not words and name == "TEXTAREA"):
            return
    raise AssertionError(f"{words or 'a field'} was not reached by Tab")


@pytest.fixture(scope="module")
def busy(shared_county: County) -> County:
    """A rover with three assignments: one on site, one stopped by a seal, one in danger."""
    shared_county.jam()
    shared_county.house.act(JAM, {"key": "b1", "action": "on-site", "rover": "R03"})
    shared_county.trouble("P015", "seal-broken", device="SC-0151")
    shared_county.assign("P015.seal-broken.SC-0151", expected_at="2026-11-03T06:50:00-06:00")
    shared_county.trouble("P016", "threat", note="Man shouting at the door")
    shared_county.assign("P016.threat")
    return shared_county


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_grave_fault_and_nothing_too_small_for_a_thumb(busy: County, new_phone: NewPhone, scheme: str) -> None:
    page = signed_in(new_phone(color_scheme=scheme), busy)
    assert faults(page) == []
    page.evaluate("document.querySelectorAll('details').forEach((each) => { each.open = true })")
    assert faults(page) == []
    small = page.evaluate(
        """(least) => [...document.querySelectorAll('main a, main button, main summary')]
            .filter((each) => each.offsetParent && Math.min(each.offsetWidth, each.offsetHeight) < least)
            .map((each) => each.textContent)""",
        THUMB,
    )
    assert small == []
    page.context.set_offline(True)
    tap(page, "Accepted", 1)
    expect(page.locator("#strip .waits")).to_be_visible()
    assert faults(page) == []


def test_the_next_button_is_within_reach_without_scrolling(busy: County, new_phone: NewPhone) -> None:
    page = signed_in(new_phone(), busy)
    page.locator("article").nth(1).locator("summary").first.click()
    button = page.locator("article").nth(1).get_by_role("button", name="Accepted")
    page.locator("article").nth(1).evaluate("(each) => each.scrollIntoView()")
    box = button.bounding_box()
    assert box is not None
    assert 422 < box["y"] < 844 - box["height"] + 1  # the lower half of the screen


def test_text_at_twice_its_size_breaks_nothing(busy: County, new_phone: NewPhone) -> None:
    page = signed_in(new_phone(), busy)
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    page.evaluate("document.querySelectorAll('details').forEach((each) => { each.open = true })")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    assert page.evaluate(CUT_OFF) == []


def test_the_first_load_over_a_slow_link_is_usable_in_five_seconds(busy: County, new_phone: NewPhone) -> None:
    page = new_phone(service_workers="block")  # the link is slowed for the page's own requests only
    slow = page.context.new_cdp_session(page)
    slow.send("Network.enable")
    slow.send("Network.emulateNetworkConditions", {
        "offline": False, "latency": 400, "downloadThroughput": 400_000 / 8, "uploadThroughput": 400_000 / 8,
    })  # fmt: skip
    began = time.monotonic()
    signed_in(page, busy)
    usable_after = time.monotonic() - began
    print(f"slow link: usable after {usable_after:.1f} s")
    assert usable_after < 5


def test_where_nothing_can_be_kept_on_the_phone_the_plain_form_is_sent(county: County, new_phone: NewPhone) -> None:
    page = new_phone()
    page.add_init_script("Object.defineProperty(window, 'indexedDB', {value: undefined})")
    signed_in(page, county)
    county.jam()
    expect(page.locator("article")).to_have_count(1)  # put in by the script, so without a key of its own
    tap(page, "Accepted")
    expect(page.locator("article dl")).to_contain_text("Accepted")
    assert [entry["action"] for entry in county.actions()] == ["accept"]


def test_without_script_the_page_works_by_its_forms(county: County, new_phone: NewPhone) -> None:
    county.jam()
    page = new_phone(java_script_enabled=False)
    page.goto(county.way_in())
    tap(page, "Accepted")
    expect(page.locator("#strip")).to_contain_text("At the central office: Mill School.")
    tap(page, "Under way")
    expect(page.locator("article dl")).to_contain_text("Under way")
    assert [entry["action"] for entry in county.actions()] == ["accept", "under-way"]


def test_a_phone_whose_key_was_ended_says_so_and_keeps_what_is_tapped(county: County, new_phone: NewPhone) -> None:
    county.jam()
    page = signed_in(new_phone(), county)
    revoke_keys(county.house.office, Sender.on_the_road("R03"))
    expect(page.locator("#strip .lost")).to_contain_text("This phone is signed out: its key was ended.")
    tap(page, "Accepted")
    expect(page.locator("#strip .waits")).to_contain_text("1 report")
    assert county.actions() == []
    fresh = issue_key(county.house.office, Sender.on_the_road("R03"))
    page.goto(f"{county.address}/rover/R03?k={fresh}")
    expect(page.locator("#strip")).to_contain_text("Everything you told is at the central office.")
    assert [entry["action"] for entry in county.actions()] == ["accept"]


def test_by_the_real_clock_a_tap_has_the_phones_own_time(
    new_phone: NewPhone, tmp_path_factory: pytest.TempPathFactory
) -> None:
    with a_county(tmp_path_factory.mktemp("today") / "data", now="") as county:
        county.jam()
        page = signed_in(new_phone(), county)
        tap(page, "Accepted")
        expect(page.locator("article dl")).to_contain_text("Accepted")
        (entry,) = county.actions()
        assert entry["stamp"] == "told"
