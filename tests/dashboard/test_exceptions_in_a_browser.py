"""Exceptions in a real Chromium: the rover chosen beforehand, a pattern and its cases, and the curves as they move."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, WebSocket, expect

from tests.browser import chromium
from tests.dashboard.a_running_board import RunningBoard, a_running_board
from tests.dashboard.test_board_in_a_browser import opened

__all__ = ["chromium"]
PLACES = ("P00004", "P00019", "P00036")
CASE = "P00004.scanner-jam"

CHOOSE_AS_A_BEAT_COMES = """
async row => {
  const office = globalThis.__pollrise
  row.click()
  for (const wait of [20, 20, 40, 80, 160]) {
    await new Promise(done => setTimeout(done, wait))
    office.beat = { ...office.beat, revision: office.beat.revision + 1 }
    office.pages.forEach(look => look())
  }
}
"""


@pytest.fixture(scope="module")
def running(tmp_path_factory: pytest.TempPathFactory, chromium: Browser) -> Iterator[RunningBoard]:
    """A county in which three scanners jam, far from one another and within half an hour."""
    with a_running_board(tmp_path_factory.mktemp("county") / "data") as board:
        for place in PLACES:
            board.report(place, "exception", exception="scanner-jam")
        yield board


@pytest.fixture(scope="module")
def tab(chromium: Browser, running: RunningBoard) -> Iterator[Page]:
    """One tab for the tests of this file: each goes to an address of its own, and there begins anew."""
    with running.tab(chromium) as page:
        yield page


@pytest.fixture
def page(tab: Page, running: RunningBoard) -> Page:
    """Exceptions, with the first case chosen."""
    return opened(tab, f"{running.address}/exceptions?case={CASE}")


def curve(page: Page) -> str:
    """The curve of how soon impaired voting was acknowledged, as it is drawn."""
    panel = page.locator(".st-key-how-soon section").filter(has_text="Acknowledged")
    found = panel.locator(".pr-waits-chart polyline[data-of=impaired]").get_attribute("points")
    assert found is not None
    return found


def test_a_suggested_rover_is_chosen_and_assigned_with_three_clicks_and_the_curve_moves(
    page: Page, running: RunningBoard
) -> None:
    expect(page.locator(".pr-suggested")).to_contain_text(
        re.compile(r"Suggested: .+\. .+ min.* On site about \d\d:\d\d")
    )
    before = curve(page)
    page.get_by_role("button", name="Acknowledge", exact=True).click()
    expect(page.get_by_role("combobox", name="Rover")).to_have_value(re.compile(r", suggested, \d+ min"))
    expect(page.locator(".st-key-how-soon")).to_contain_text("2 still waiting")
    assert curve(page) != before
    page.get_by_role("button", name="Assign this rover").click()
    expect(page.locator(".pr-milestones")).to_contain_text(re.compile(r"on site.*expected \d\d:\d\d"))
    (assigned,) = [entry for entry in running.actions(CASE) if entry["action"] == "assign"]
    assert assigned["rover"] == assigned["suggested"]
    assert running.case(CASE)["expected_at"] == assigned["expected_at"]


def test_the_desk_s_own_choice_outlives_newer_suggestions(tab: Page, running: RunningBoard) -> None:
    case = "P00019.scanner-jam"
    page = opened(tab, f"{running.address}/exceptions?case={case}")
    page.get_by_role("button", name="Acknowledge", exact=True).click()
    rover = page.get_by_role("combobox", name="Rover")
    expect(rover).to_have_value(re.compile("suggested"))
    rover.click()
    page.get_by_role("option").filter(has_not_text="suggested").last.click()
    chosen = rover.input_value()
    running.report("P00030", "exception", exception="no-power", effect="stopped")
    expect(page.locator(".pr-rows-cases").first).to_contain_text("no power")
    expect(rover).to_have_value(re.compile(re.escape(chosen.split(",")[0])))
    page.get_by_role("button", name="Assign this rover").click()
    expect(page.locator(".pr-history")).to_contain_text("the board suggested")
    (assigned,) = [entry for entry in running.actions(case) if entry["action"] == "assign"]
    assert assigned["rover"] != assigned["suggested"]


def test_no_newer_board_is_asked_for_until_what_was_just_chosen_is_drawn(tab: Page, running: RunningBoard) -> None:
    asked: list[str | bytes] = []

    def listen(socket: WebSocket) -> None:
        if "stream" in socket.url:
            socket.on("framesent", lambda frame: asked.append(frame))

    tab.on("websocket", listen)
    page = opened(tab, f"{running.address}/exceptions?case={CASE}")
    row = page.locator(".pr-rows-cases button[aria-pressed=false]", has_text="scanner jam").first
    name = row.locator(".pr-row-name").inner_text()
    asked.clear()
    row.evaluate(CHOOSE_AS_A_BEAT_COMES)
    # the choice itself, and the page's own drawing of every half minute where that falls on this moment
    assert 1 <= len(asked) <= 2
    expect(page.locator(".st-key-case")).to_contain_text(name)


def test_a_pattern_leads_to_its_cases_and_they_lead_back(page: Page, running: RunningBoard) -> None:
    pattern = page.locator(".pr-rows-cases button", has_text="same trouble: scanner jam")
    pattern.click()
    expect(page.locator(".pr-case-title")).to_have_text("Same trouble at 3 places, scanner jam")
    linked = page.locator(".st-key-case .pr-rows-few button")
    expect(linked).to_have_count(3)
    expect(page.get_by_role("button", name="Acknowledge", exact=True)).to_be_visible()
    linked.first.click()
    expect(page.locator(".pr-pattern")).to_contain_text("One of 3 places with the same trouble")
    expect(linked).to_have_count(1)
    linked.click()
    expect(page.locator(".pr-case-title")).to_contain_text("Same trouble at 3 places")
