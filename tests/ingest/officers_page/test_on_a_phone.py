"""The sheet on a phone, in a real browser: a whole opening, what differs, help, two phones, a slow link."""

import time
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from county.domain.senders import Sender
from county.upkeep import issue_key, revoke_keys
from ingest.phone.office_side import FRESH_FOR
from tests.browser import PHONE
from tests.ingest.officers_page.a_county import County, a_county
from tests.ingest.officers_page.by_hand import (
    do_step,
    kept_for_no_signal,
    name_shown,
    section,
    signed_in,
    tap_done,
    type_in,
)
from tests.ingest.phones import CUT_OFF, NewPhone

OPENING = [
    "t-staffed",
    "t-site-ready",
    "t-seals-checked-BM-0141-front",
    "t-seals-checked-SC-0141-auxiliary",
    "t-seals-checked-SC-0141-front",
    "t-seals-checked-SC-0142-front",
    "t-powered",
    "t-boxes-empty-SC-0141",
    "t-boxes-empty-SC-0142",
    "t-pollbooks-ready",
    "t-setup-confirmed-SC-0141",
    "t-setup-confirmed-SC-0142",
    "t-zero-report-SC-0141",
    "t-zero-report-SC-0142",
    "t-open",
]


def at_the_office(page: Page, steps: int = 1) -> None:
    """Wait until the page says that so many steps are at the office, and that nothing waits."""
    expect(page.locator("#far")).to_contain_text(f"{steps} of 21 steps are at the central office.")
    expect(page.locator("#strip")).to_contain_text("Everything you told is at the central office.")


def test_a_whole_opening_for_a_place_with_three_devices(tmp_path: Path, new_phone: NewPhone) -> None:
    with a_county(tmp_path / "data", now="2026-11-03T06:00:00-06:00x1") as county:
        a_whole_opening(county, new_phone())


def a_whole_opening(county: County, phone: Page) -> None:
    page = signed_in(phone, county.way_in())
    assert page.url == f"{county.address}/at/P014"
    for task in OPENING:
        assert name_shown(page) == task
        do_step(page, task)
        expect(page.locator(f"#{task}")).to_be_hidden()
    assert name_shown(page) == "count"
    at_the_office(page, len(OPENING))
    steps = county.steps()
    assert [(e["step"], e.get("device", ""), e.get("seal_position", "")) for e in steps] == [
        ("staffed", "", ""),
        ("site-ready", "", ""),
        ("seals-checked", "BM-0141", "front"),
        ("seals-checked", "SC-0141", "auxiliary"),
        ("seals-checked", "SC-0141", "front"),
        ("seals-checked", "SC-0142", "front"),
        ("powered", "", ""),
        ("boxes-empty", "SC-0141", ""),
        ("boxes-empty", "SC-0142", ""),
        ("pollbooks-ready", "", ""),
        ("setup-confirmed", "SC-0141", ""),
        ("setup-confirmed", "SC-0142", ""),
        ("zero-report", "SC-0141", ""),
        ("zero-report", "SC-0142", ""),
        ("open", "", ""),
    ]
    assert {e["stamp"] for e in steps} == {"told"}
    assert county.house.get("/cases").body == []


def test_a_seal_that_differs_stops_the_sheet_there_and_says_what_the_county_says(
    county: County, new_phone: NewPhone
) -> None:
    page = signed_in(new_phone(), county.way_in())
    page.goto(f"{county.address}/at/P014#t-seals-checked-SC-0141-front")
    do_step(page, "t-seals-checked-SC-0141-front", seal_number="8004112")
    stop = section(page).locator(".reports .stop")
    expect(stop).to_contain_text("The number typed is not the number on record for this seal.")
    expect(stop).to_contain_text("Leave the device as it is, with the seal on.")
    expect(stop).to_contain_text("The central office has been told.")
    expect(section(page).locator("button.main")).to_be_hidden()
    (case,) = county.house.get("/cases").body
    county.house.act(case["case"], {"key": "a1", "action": "assign", "rover": "R03"})
    page.wait_for_timeout(FRESH_FOR * 1000 + 100)
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    expect(stop).to_contain_text("Rover R03, Ana Invented, is asked to come")
    page.get_by_role("link", name="See the other steps").click()
    expect(page.locator("#steps a.stopped")).to_contain_text("the central office has been told, look here")


def test_a_start_count_that_is_not_zero_is_said_without_signal_too(county: County, new_phone: NewPhone) -> None:
    page = signed_in(new_phone(), county.way_in())
    page.goto(f"{county.address}/at/P014#t-zero-report-SC-0141")
    page.context.set_offline(True)
    do_step(page, "t-zero-report-SC-0141", public_counter="7")
    stop = section(page).locator(".local .stop")
    expect(stop).to_contain_text("7. It must be 0.")
    expect(stop).to_contain_text("Take no ballot on this scanner")
    expect(stop).to_contain_text("The central office is told as soon as there is signal.")
    expect(page.locator("#strip")).to_contain_text("Kept on this phone, not yet at the central office: 1 report.")
    expect(section(page).locator(".sofar")).to_contain_text("The central office checks the number when it arrives.")
    page.context.set_offline(False)
    page.evaluate("dispatchEvent(new Event('online'))")
    expect(section(page).locator(".reports .stop")).to_contain_text("SC-0141 started at 7, not 0")
    expect(stop).to_have_count(0)
    assert [case["exception"] for case in county.house.get("/cases").body] == ["nonzero-start-count"]


def test_a_seal_typed_without_signal_says_only_that_the_office_will_check_it(
    county: County, new_phone: NewPhone
) -> None:
    page = signed_in(new_phone(), county.way_in())
    task = "t-seals-checked-SC-0141-front"
    page.goto(f"{county.address}/at/P014#{task}")
    page.context.set_offline(True)
    do_step(page, task, seal_number="8004112")
    expect(page).not_to_have_url(f"{county.address}/at/P014#{task}")
    page.goto(f"{county.address}/at/P014#{task}")
    expect(section(page).locator(".sofar")).to_contain_text("The central office checks the number when it arrives.")
    expect(section(page).locator(".stop:visible")).to_have_count(0)
    # away from the step before the signal is back: who has it in sight when the answer comes needs no alarm
    page.evaluate("location.hash = 'steps'")
    expect(page.locator("#steps")).to_be_visible()
    page.context.set_offline(False)
    page.evaluate("dispatchEvent(new Event('online'))")
    expect(page.locator("#alarm")).to_contain_text("Stop and look: Seals compared")
    page.locator("#alarm a").click()
    expect(section(page).locator(".reports .stop")).to_contain_text("not the number on record for this seal")
    expect(page.locator("#alarm")).to_be_empty()


def test_the_sheet_starts_without_signal_and_sends_when_it_is_back(county: County, new_phone: NewPhone) -> None:
    page = signed_in(new_phone(), county.way_in())
    kept_for_no_signal(page, "P014")
    page.context.set_offline(True)
    page.reload()
    expect(page.locator("html[data-ready]")).to_be_attached()
    do_step(page, "t-staffed")
    expect(page.locator("#t-site-ready")).to_be_visible()
    expect(page.locator("#strip")).to_contain_text("Kept on this phone, not yet at the central office: 1 report.")
    page.reload()
    expect(page.locator("#t-site-ready")).to_be_visible()
    assert county.told() == []
    page.context.set_offline(False)
    page.evaluate("dispatchEvent(new Event('online'))")
    at_the_office(page)
    assert [entry["step"] for entry in county.told()] == ["staffed"]


def test_help_is_told_in_two_taps_and_taken_back_in_two(county: County, new_phone: NewPhone) -> None:
    page = signed_in(new_phone(), county.way_in())
    page.get_by_role("link", name="Help").click()
    page.get_by_role("button", name="Scanner jam").click()
    case = page.locator("#office details")
    expect(case).to_contain_text("Scanner jam")
    assert [entry["exception"] for entry in county.told()] == ["scanner-jam"]
    expect(case).to_contain_text("Two officers open only what the county's sheet allows.")
    case.get_by_role("button", name="Sent by mistake").click()
    expect(page.locator("#office details")).to_have_count(0)
    assert county.house.get("/cases").body == []


def test_two_phones_at_one_place_see_each_others_steps(county: County, new_phone: NewPhone) -> None:
    one, other = signed_in(new_phone(), county.way_in()), signed_in(new_phone(), county.way_in())
    do_step(one, "t-staffed")
    at_the_office(one)
    other.locator("#t-staffed [name=officers_present]").fill("4")
    began = time.monotonic()
    expect(other.locator("#t-staffed .report")).to_contain_text("5", timeout=15_000)
    assert time.monotonic() - began < 12
    assert other.locator("#t-staffed [name=officers_present]").input_value() == "4"
    expect(other.locator("#far")).to_contain_text("1 of 21 steps are at the central office")


def test_what_is_half_typed_survives_a_reload(county: County, new_phone: NewPhone) -> None:
    page = signed_in(new_phone(), county.way_in())
    type_in(page, {"officers_present": "6"})
    page.wait_for_timeout(400)
    page.reload()
    expect(page.locator("#t-staffed [name=officers_present]")).to_have_value("6")
    tap_done(page)
    at_the_office(page)
    assert county.told()[0]["officers_present"] == 6


def test_a_number_typed_wrong_is_put_right_on_the_phone(county: County, new_phone: NewPhone) -> None:
    page = signed_in(new_phone(), county.way_in())
    do_step(page, "t-staffed", officers_present="1")
    expect(section(page).locator(".stop").first).to_contain_text("1 of 2 officers present")
    section(page).get_by_role("link", name="Put this right").click()
    type_in(page, {"officers_present": "4"})
    tap_done(page)
    expect(page.locator("#t-staffed .report")).to_contain_text("4")
    at_the_office(page)
    assert [entry["kind"] for entry in county.told()] == ["step", "correction"]
    assert county.house.get("/cases").body == []


def test_a_script_typed_as_a_note_is_shown_as_text(county: County, new_phone: NewPhone) -> None:
    page = signed_in(new_phone(), county.way_in())
    evil = "<img src=x onerror=alert(1)><script>alert(2)</script>"
    section(page).locator("summary").click()
    type_in(page, {"officers_present": "5", "note": evil})
    tap_done(page)
    at_the_office(page)
    page.goto(f"{county.address}/at/P014#t-staffed")
    expect(page.locator("#t-staffed .report")).to_contain_text(evil)
    page.get_by_role("link", name="Help").click()
    page.locator("#help summary").click()
    type_in(page, {"note": evil})
    page.get_by_role("button", name="Other trouble").click()
    expect(page.locator("#office")).to_contain_text(evil)
    assert page.locator("main img, #office img, main script, #office script").count() == 0


def test_what_the_office_could_not_take_is_said_and_what_follows_is_sent(county: County, new_phone: NewPhone) -> None:
    page = signed_in(new_phone(), county.way_in())
    page.evaluate("document.querySelector('#t-staffed [name=officers_present]').removeAttribute('pattern')")
    do_step(page, "t-staffed", officers_present="five")
    expect(page.locator("#strip .lost")).to_contain_text("must be a whole number")
    do_step(page, "t-staffed")
    expect(page.locator("#t-site-ready")).to_be_visible()
    page.get_by_role("button", name="Seen").click()
    at_the_office(page)
    assert [entry["officers_present"] for entry in county.told()] == [5]
    assert len(county.house.aside()) == 1


def test_everything_is_done_by_keyboard_alone(county: County, new_phone: NewPhone) -> None:
    page = signed_in(new_phone(), county.way_in())
    page.keyboard.press("Tab")
    expect(page.locator(".skip")).to_be_focused()
    page.keyboard.press("Enter")
    tab_to(page, "officers_present")
    page.keyboard.type("5")
    page.keyboard.press("Enter")
    expect(page.locator("#t-site-ready")).to_be_focused()
    tab_to(page, "route_inches")
    page.keyboard.type("40")
    tab_to(page, "door_inches")
    page.keyboard.type("36")
    page.keyboard.press("Enter")
    expect(page.locator("#t-seals-checked-BM-0141-front")).to_be_focused()
    tab_to(page, "seal_number")
    page.keyboard.type("1")
    tab_to(page, "seal_intact")
    page.keyboard.press("Space")
    page.keyboard.press("Enter")
    expect(section(page).locator(".reports .stop")).to_be_visible()
    assert [entry["step"] for entry in county.steps()] == ["staffed", "site-ready", "seals-checked"]


def tab_to(page: Page, name: str) -> None:
    """Press Tab until the field with this name has the focus, and see that the focus can be seen."""
    for _ in range(40):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.name") == name:
            return
    raise AssertionError(f"{name} was not reached by Tab")


def test_enter_in_the_words_of_help_sends_nothing(county: County, new_phone: NewPhone) -> None:
    page = signed_in(new_phone(), county.way_in())
    page.get_by_role("link", name="Help").click()
    page.locator("#help summary").click()
    page.locator("#fallback").fill("paper ballots")
    page.keyboard.press("Enter")
    page.wait_for_timeout(500)
    assert county.told() == []


@pytest.mark.parametrize("view", ["", "#help", "#steps", "#count", "#t-seals-checked-SC-0141-front", "#t-balanced"])
def test_text_at_twice_its_size_breaks_nothing(shared_county: County, new_phone: NewPhone, view: str) -> None:
    page = signed_in(new_phone(), shared_county.way_in())
    page.goto(f"{shared_county.address}/at/P014{view}")
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    cut = page.evaluate(CUT_OFF)
    assert cut == []


def test_the_first_load_over_a_slow_link_is_usable_in_five_seconds(county: County, new_phone: NewPhone) -> None:
    page = new_phone(service_workers="block")  # the link is slowed for the page's own requests only
    slow = page.context.new_cdp_session(page)
    slow.send("Network.enable")
    slow.send("Network.emulateNetworkConditions", {
        "offline": False, "latency": 400, "downloadThroughput": 400_000 / 8, "uploadThroughput": 400_000 / 8,
    })  # fmt: skip
    began = time.monotonic()
    signed_in(page, county.way_in())
    usable_after = time.monotonic() - began
    began = time.monotonic()
    do_step(page, "t-staffed")
    at_the_office(page)
    saved_after = time.monotonic() - began
    print(f"slow link: usable after {usable_after:.1f} s, a step saved after {saved_after:.1f} s")
    assert usable_after < 5
    assert saved_after < 2.5


def test_where_nothing_can_be_kept_on_the_phone_the_plain_form_is_sent(county: County, new_phone: NewPhone) -> None:
    page = new_phone()
    page.add_init_script("Object.defineProperty(window, 'indexedDB', {value: undefined})")
    signed_in(page, county.way_in())
    do_step(page, "t-staffed")
    expect(page.locator("#t-site-ready")).to_be_visible()
    assert len(county.told()) == 1


def test_a_phone_whose_key_was_ended_says_so_and_keeps_what_is_typed(county: County, new_phone: NewPhone) -> None:
    page = signed_in(new_phone(), county.way_in())
    revoke_keys(county.house.office, Sender.at_place("P014"))
    time.sleep(1.2)
    do_step(page, "t-staffed")
    expect(page.locator("#strip .lost")).to_contain_text("This phone is signed out: its key was ended.")
    assert county.told() == []
    fresh = issue_key(county.house.office, Sender.at_place("P014"))
    signed_in(page, f"{county.address}/at/P014?k={fresh}")
    at_the_office(page)
    assert [entry["step"] for entry in county.told()] == ["staffed"]


def test_without_script_the_basics_work_and_nothing_is_a_dead_end(county: County, chromium: Browser) -> None:
    context = chromium.new_context(**PHONE, java_script_enabled=False)  # type: ignore[arg-type]
    page = context.new_page()
    page.goto(county.way_in())
    do_step(page, "t-staffed")
    do_step(page, "t-site-ready", route_inches="30")
    expect(section(page).locator(".reports .stop")).to_contain_text("The central office has been told.")
    page.get_by_role("link", name="Steps").click()
    page.get_by_role("link", name="Polls declared open").click()
    page.get_by_role("link", name="Do this step now").click()
    do_step(page, "t-open")
    page.goto(f"{county.address}/at/P014#t-staffed")
    page.get_by_role("link", name="Put this right").click()
    type_in(page, {"officers_present": "4"})
    tap_done(page)
    page.get_by_role("link", name="Count").click()
    page.locator("#count").get_by_label("Check-ins so far").fill("41")
    page.get_by_role("button", name="Send the count").click()
    page.get_by_role("link", name="Help").click()
    page.get_by_role("button", name="Scanner jam").click()
    expect(page.locator("#office")).to_contain_text("Scanner jam")
    context.close()
    assert [entry["kind"] for entry in county.told()] == ["step", "step", "step", "correction", "count", "exception"]
