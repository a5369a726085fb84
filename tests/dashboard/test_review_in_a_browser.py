"""The review in a real Chromium: one place on one screen, the slider played, pages as at a time, accessibility."""

import time
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, ViewportSize, expect

from tests.axe import faults
from tests.browser import chromium
from tests.dashboard.a_running_board import RunningBoard, a_running_board

__all__ = ["chromium"]
PLACE, CASE, OPEN_CASE = "P00014", "P00014.late-opening", "P00020.late-opening"
DESK: ViewportSize = {"width": 1366, "height": 768}
PHONE: ViewportSize = {"width": 390, "height": 844}
WATCH_FOR_FADING = """
globalThis.faintest = 1
const look = () => {
  for (const each of document.querySelectorAll('[data-testid=stElementContainer]'))
    globalThis.faintest = Math.min(globalThis.faintest, Number(getComputedStyle(each).opacity))
  requestAnimationFrame(look)
}
look()
"""
AS_IF_WAITED_FOR = """
(() => {
  const each = document.querySelector('[data-testid=stElementContainer]').cloneNode()
  each.dataset.stale = "true"
  each.style.opacity = "0.33"
  document.querySelector('[data-testid=stVerticalBlock]').append(each)
  const opacity = getComputedStyle(each).opacity
  each.remove()
  return opacity
})()
"""
"""The opacity of an element marked as Streamlit marks what is being drawn again."""
QUESTIONS = (
    "When did it open?",
    "By whose clock?",
    "Who knew, and when?",
    "What was done?",
    "How long did it take?",
)


@pytest.fixture(scope="module")
def running(tmp_path_factory: pytest.TempPathFactory, chromium: Browser) -> Iterator[RunningBoard]:
    """Half an hour after opening one place opened late, and the office had sent somebody meanwhile."""
    with a_running_board(tmp_path_factory.mktemp("county") / "data") as board:
        board.report(PLACE, "step", step="staffed", happened_at="2026-11-03T05:20:00-06:00")
        until = time.monotonic() + 20
        while not any(each["case"] == CASE for each in board.ask("GET", "/cases?state=all")):
            assert time.monotonic() < until, "the clock did not raise it"
            time.sleep(0.2)
        board.act(CASE, "acknowledge")
        board.act(CASE, "assign", rover="R0001")
        board.report(PLACE, "step", step="open", happened_at="2026-11-03T06:12:00-06:00")
        yield board


@pytest.fixture(scope="module")
def page(chromium: Browser, running: RunningBoard) -> Iterator[Page]:
    """One tab for the tests of this file: each goes to an address of its own, and there begins anew."""
    with running.tab(chromium, viewport=DESK) as page:
        yield page


def test_when_it_opened_by_whose_clock_who_knew_what_was_done_and_how_long_stand_on_one_screen(
    page: Page, running: RunningBoard
) -> None:
    began = time.monotonic()
    page.goto(f"{running.address}/review")
    page.get_by_role("radio", name="One place").click()
    page.get_by_role("combobox", name="Place").click()
    page.keyboard.type(PLACE)
    page.keyboard.press("Enter")
    expect(page.locator(".pr-sentence")).to_contain_text("opened at 06:12, 12 minutes late. The office knew it at 06:3")
    answers = page.locator(".pr-answers > div")
    assert answers.locator("dt").all_inner_texts() == list(QUESTIONS)
    when, clock, knew, done, took = answers.all_inner_texts()
    assert "06:12:00, 12 min after its own opening time 06:00" in when
    assert "The sender's own: the time is as told. Told by Front desk" in clock
    assert "Entry " in clock
    assert "06:00:00 it was so: not open at its opening time" in knew
    assert "by its own clock: not open at its opening time" in knew
    assert "that it was open" in knew
    assert "acknowledged by Front desk; 06:3" in done
    assert "assigned " in done
    assert "cleared after 12 min" in took
    assert "first acted on after 3" in took
    box = page.locator(".pr-answers").bounding_box()
    assert box is not None
    assert box["y"] + box["height"] <= DESK["height"], "all of it without scrolling"
    assert time.monotonic() - began < 60


def test_the_slider_is_moved_by_keyboard_and_the_page_follows(page: Page, running: RunningBoard) -> None:
    page.goto(f"{running.address}/review?at=2026-11-03T06:10:00-06:00")
    expect(page.locator(".pr-sentence")).to_contain_text("At 06:10 none of 40 places was open.")
    slider = page.get_by_role("slider", name="Moment of the day")
    slider.focus()
    slider.press("ArrowRight")
    slider.press("ArrowRight")
    expect(page.locator(".pr-sentence")).to_contain_text(
        "At 06:12 the office knew 0 of 40 places to be open; 1 was. The two differ at 40 places."
    )
    assert slider.get_attribute("aria-valuetext") == "06:12"
    expect(page.get_by_role("list", name="Places that differ")).to_contain_text(
        "Known: not heard from. It was: open since 06:12"
    )
    slider.press("Home")
    expect(page.locator(".pr-sentence")).to_contain_text("At 04:00 none of 40 places was open.")


def test_it_plays_at_six_hundred_times_without_being_drawn_anew_and_stops_where_it_is_paused(
    page: Page, running: RunningBoard
) -> None:
    page.goto(f"{running.address}/review?at=2026-11-03T04:30:00-06:00")
    expect(page.locator(".pr-sentence")).to_contain_text("At 04:30")
    page.wait_for_selector(".pr-cautions")
    expect(page.locator(".pr-map canvas")).to_have_count(2)
    page.evaluate("document.querySelectorAll('.pr-slider, .pr-sentence, .pr-map').forEach(each => (each.mine = true))")
    page.evaluate(WATCH_FOR_FADING)
    page.get_by_label("How fast").select_option("600")
    page.get_by_role("button", name="Play").click()
    expect(page.locator(".pr-slider-time")).to_contain_text("05:", timeout=10_000)
    page.wait_for_function("!document.querySelector('.pr-sentence').textContent.includes('04:30')")
    page.get_by_role("button", name="Pause").click()
    shown = page.locator(".pr-slider-time").inner_text()
    expect(page.locator(".pr-sentence")).to_contain_text(f"At {shown}")
    kept = "[...document.querySelectorAll('.pr-slider, .pr-map')].every(each => each.mine)"
    assert page.evaluate(AS_IF_WAITED_FOR) == "1", "what waits for the next moment stays as it is"
    assert page.evaluate("globalThis.faintest") == 1, "nothing fades while the next moment is drawn"
    assert page.evaluate(kept), "the slider and the maps are the ones that stood there before"


def test_a_page_as_at_a_time_says_so_and_offers_no_action(page: Page, running: RunningBoard) -> None:
    page.goto(f"{running.address}/exceptions?case={OPEN_CASE}")
    acknowledge = page.get_by_role("button", name="Acknowledge", exact=True)
    expect(acknowledge).to_be_visible()
    page.goto(f"{running.address}/exceptions?at=2026-11-03T06:20:00-06:00&view=happened&case={OPEN_CASE}")
    banner = page.get_by_role("status").filter(has_text="This is not now.")
    expect(banner).to_contain_text("It is 06:20:00, as it happened, as far as is known today.")
    for name in ("Acknowledge", "Clear", "Withdraw"):
        expect(page.get_by_role("button", name=name, exact=True)).to_have_count(0)
    banner.get_by_role("link", name="Back to now").click()
    expect(acknowledge).to_be_visible()
    assert "at=" not in page.url
    assert OPEN_CASE in page.url


def test_a_place_that_differs_leads_to_its_record(page: Page, running: RunningBoard) -> None:
    page.goto(f"{running.address}/review?at=2026-11-03T06:20:00-06:00")
    page.get_by_role("list", name="Places that differ").get_by_role("button").first.click()
    expect(page.locator(".pr-sentence")).to_contain_text("opened at 06:12")
    assert f"place={PLACE}" in page.url


@pytest.mark.parametrize("size", [DESK, PHONE], ids=["desk", "phone"])
def test_every_part_is_accessible_and_fits_the_screen(
    chromium: Browser, running: RunningBoard, size: ViewportSize
) -> None:
    context = running.context(chromium, viewport=size)
    page = context.new_page()
    for part in ("day", "place", "response", "late", "kinds"):
        page.goto(f"{running.address}/review?part={part}&place={PLACE}")
        page.wait_for_selector(".pr-cautions")
        assert faults(page) == [], part
        wide = page.evaluate("document.querySelector('[data-testid=stMain]').scrollWidth")
        assert wide <= size["width"], part
    context.close()
