"""A call is taken by keyboard alone in a real Chromium, while reports come in: in under thirty seconds, and once."""

import time
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.axe import faults
from tests.browser import chromium
from tests.dashboard.a_running_board import RunningBoard, a_running_board
from tests.dashboard.test_board_in_a_browser import opened, reports_coming_in, revision, wait_for_newer

__all__ = ["chromium"]
KEY_MS = 60
"""Between two keys, as somebody types who also listens."""


@pytest.fixture(scope="module")
def running(tmp_path_factory: pytest.TempPathFactory, chromium: Browser) -> Iterator[RunningBoard]:
    """One county for the tests of this file; each looks at places of its own."""
    with a_running_board(tmp_path_factory.mktemp("calls") / "data") as board:
        yield board


@pytest.fixture(scope="module")
def tab(chromium: Browser, running: RunningBoard) -> Iterator[Page]:
    """One tab for the tests of this file: each goes to an address of its own, and there begins anew."""
    with running.tab(chromium) as page:
        yield page


@pytest.fixture
def page(tab: Page, running: RunningBoard) -> Page:
    """The page for taking a call, with Ann Lee at the desk."""
    opened(tab, f"{running.address}/call")
    tab.get_by_label("Place: its number").wait_for()
    return tab


def keys(page: Page, *said: str) -> None:
    """Type text, or press a key where one is named."""
    for each in said:
        if each in ("Tab", "Enter", "Space", "ArrowRight", "ArrowDown"):
            page.keyboard.press(each)
            page.wait_for_timeout(KEY_MS)
        else:
            page.keyboard.type(each, delay=KEY_MS)


def told(running: RunningBoard, place: str) -> list[dict[str, object]]:
    """What the ledger holds of this place through the board's door."""
    return [
        each for each in running.ask("GET", "/ledger?limit=1000") if each["place"] == place and each["door"] == "board"
    ]


def test_a_call_is_taken_by_keyboard_in_under_thirty_seconds(page: Page, running: RunningBoard) -> None:
    other = opened(page.context.new_page(), f"{running.address}/exceptions")
    page.bring_to_front()
    expect(page.get_by_label("Place: its number")).to_be_focused()
    with reports_coming_in(running, "P00002"):
        began = time.monotonic()
        keys(page, "p5", "Enter")
        expect(page.locator(".stHtml p:not(.pr-narrow)", has_text="P00005.")).to_be_visible()
        keys(page, "Tab", "Space", "ArrowRight", "Tab", "Space", "Tab", "long", "Enter")
        keys(page, "Tab", "10 min", "Tab", "officer in", "Enter", "Tab", "Tab", "40 people, one table", "Tab", "Enter")
        expect(page.get_by_text("Written down at")).to_be_visible()
        took = time.monotonic() - began
        expect(other.locator("li[data-id='P00005.long-line']")).to_be_attached(timeout=5_000)
        seen = time.monotonic() - began - took
    other.close()
    print(f"a call took {took:.1f} s, and stood on Exceptions {seen:.1f} s later")
    assert took < 30, took
    assert seen < 2, seen
    (entry,) = told(running, "P00005")
    assert (entry["by"], entry["effect"]) == ("Ann Lee", "impaired")
    assert entry["note"] == "Call from an officer in charge; 40 people, one table"
    expect(page.get_by_label("Place: its number")).to_be_focused()


def test_what_is_known_there_appears_while_the_place_is_typed(page: Page, running: RunningBoard) -> None:
    running.report("P00011", "exception", exception="no-power")
    field = page.get_by_label("Place: its number")
    field.press_sequentially("P0001", delay=KEY_MS)
    known = page.locator(".pr-rows button", has_text="No power")
    expect(known).to_have_count(0)
    field.press_sequentially("1", delay=KEY_MS)
    expect(known.first).to_be_visible()
    expect(page.locator(".stHtml p:not(.pr-narrow)", has_text="P00011.")).to_be_visible()
    expect(field).to_be_focused()
    assert field.input_value() == "P00011"
    field.press_sequentially("x")
    expect(known).to_have_count(0)
    page.keyboard.press("Backspace")
    page.keyboard.press("Tab")
    expect(known.first).to_be_visible()


def test_a_half_typed_call_outlives_new_reports(page: Page, running: RunningBoard) -> None:
    note = page.get_by_label("In their words")
    note.press_sequentially("They have only one")
    before = revision(page)
    running.report("P00007", "exception", exception="no-power")
    wait_for_newer(page, before)
    assert page.evaluate("document.activeElement.value") == "They have only one"
    page.keyboard.type(" table")
    expect(note).to_have_value("They have only one table")


def test_a_double_click_is_one_report(page: Page, running: RunningBoard) -> None:
    page.get_by_label("Place: its number").fill("P00009")
    page.keyboard.press("Enter")
    page.get_by_role("radiogroup", name="Can people vote?").get_by_text("slower").click()
    page.get_by_role("radiogroup", name="Is anyone in danger?").get_by_text("no", exact=True).click()
    for label, option in (("What is it?", "Scanner jam"), ("Who is calling?", "voter")):
        page.get_by_role("combobox", name=label).click()
        page.get_by_role("option", name=option, exact=True).click()
    page.get_by_role("button", name="Write it down").dblclick()
    expect(page.get_by_text("Written down at")).to_be_visible()
    page.wait_for_timeout(1_500)
    assert len(told(running, "P00009")) == 1


def test_the_page_has_no_grave_accessibility_fault(page: Page) -> None:
    page.get_by_role("radiogroup", name="Is anyone in danger?").get_by_text("yes").click()
    expect(page.locator(".pr-911")).to_be_visible()
    assert faults(page) == []
