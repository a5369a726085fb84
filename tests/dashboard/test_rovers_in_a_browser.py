"""The way of an assignment in a real Chromium: from the desk to the rover's phone, by taps to cleared, and back."""

import re
import time
from collections.abc import Iterator

import pypdfium2
import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from county.desk import roster
from county.domain.milestones import Milestone
from county.domain.people import Role
from county.domain.senders import Sender
from county.upkeep import issue_key
from dashboard.review.responses import OF
from tests.browser import PHONE, chromium
from tests.dashboard.a_running_board import RunningBoard, a_running_board
from tests.dashboard.test_board_in_a_browser import opened

__all__ = ["chromium"]
PLACE = "P00007"
CASE = f"{PLACE}.no-power"
ROVER, OTHER = "R0002", "R0003"
BEFORE_ANYTHING_IS_DUE = "2026-11-03T04:45:00-06:00"
WITHIN = 3.0


@pytest.fixture(scope="module")
def running(tmp_path_factory: pytest.TempPathFactory, chromium: Browser) -> Iterator[RunningBoard]:
    with a_running_board(tmp_path_factory.mktemp("county") / "data", now=BEFORE_ANYTHING_IS_DUE) as board:
        yield board


@pytest.fixture(scope="module")
def desk(chromium: Browser, running: RunningBoard) -> Iterator[Page]:
    """One tab of the board, signed in: each test goes to an address of its own, and there begins anew."""
    with running.tab(chromium) as page:
        yield page


@pytest.fixture
def phone(chromium: Browser, running: RunningBoard) -> Iterator[Page]:
    """The rover's phone, opened by the code on its card."""
    context = chromium.new_context(**PHONE)  # type: ignore[arg-type]
    page = context.new_page()
    page.set_default_timeout(30_000)
    page.goto(f"{endpoint(running)}/rover/{ROVER}?k={issue_key(running.office, Sender.on_the_road(ROVER))}")
    expect(page.locator("html[data-ready]")).to_be_attached()
    yield page
    context.close()


def endpoint(running: RunningBoard) -> str:
    return f"http://127.0.0.1:{running.endpoint_port}"


def on_site(page: Page) -> Locator:
    """How soon somebody was on site, as Exceptions shows it live."""
    return page.locator(".st-key-how-soon section").filter(has_text="Somebody on site")


def on_site_curve(page: Page) -> str:
    """The curve of it, as it is drawn."""
    return on_site(page).locator(".pr-waits-chart polyline[data-of=stopped]").get_attribute("points") or ""


def on_site_in_the_record(page: Page, running: RunningBoard) -> int:
    """How many cases the record of response times counts with somebody on site."""
    opened(page, f"{running.address}/review?part=response")
    page.get_by_text(OF[Milestone.ON_SITE], exact=True).first.click()
    expect(page.locator(".pr-sentence")).to_contain_text(re.compile(f"{OF[Milestone.ON_SITE]}|no response times"))
    rows = page.locator("table[aria-label='Response times by effect'] tbody tr")
    return sum(int(row.locator("td").nth(1).inner_text()) for row in rows.all())


def test_from_the_desk_to_the_rovers_phone_to_cleared_and_the_figures_move(
    desk: Page, phone: Page, running: RunningBoard
) -> None:
    name = next(rover.name for rover in roster(running.office).rovers if rover.rover == ROVER)
    running.report(PLACE, "exception", exception="no-power", note="Whole street is dark")
    reached = on_site_in_the_record(desk, running)
    opened(desk, f"{running.address}/exceptions?case={CASE}")
    desk.get_by_role("button", name="Acknowledge", exact=True).click()
    curve = on_site_curve(desk)
    chooser = desk.get_by_role("combobox", name="Rover")
    chooser.fill(name)
    desk.get_by_role("option", name=re.compile(re.escape(name))).first.click()
    desk.get_by_role("button", name="Assign this rover").click()
    expect(phone.locator("article h2")).to_be_visible()
    (assigned,) = [entry for entry in running.actions(CASE) if entry["action"] == "assign"]
    assert assigned["rover"] == ROVER
    expect(phone.locator("article")).to_contain_text("Whole street is dark")
    for word in ("Accepted", "Under way", "On site"):
        phone.get_by_role("button", name=word, exact=True).click()
        expect(phone.locator("article dl")).to_contain_text(word)
    expect(desk.locator(".pr-milestones li.pr-reached")).to_have_count(5)
    expect(on_site(desk)).to_contain_text("half within")
    assert on_site_curve(desk) != curve
    expect(desk.get_by_role("button", name="Clear", exact=True)).to_be_visible()
    phone.get_by_label("What was done?").fill("Moved to the hall's generator; two of us carried it")
    phone.get_by_role("button", name="Cleared: tell the central office").click()
    expect(phone.locator("article")).to_have_count(0)
    expect(desk.locator(".pr-milestones li.pr-reached")).to_have_count(6)
    expect(desk.get_by_role("button", name="Reopen")).to_be_visible()
    expect(desk.locator(".pr-history")).to_contain_text("Moved to the hall's generator")
    assert on_site_in_the_record(desk, running) == reached + 1
    done = [(entry["action"], entry["sender"]) for entry in running.actions(CASE)]
    assert done[-4:] == [(action, f"rover:{ROVER}") for action in ("accept", "under-way", "on-site", "clear")]
    assert running.case(CASE)["state"] == "cleared"


def test_what_the_desk_assigns_is_on_the_phone_within_three_seconds(phone: Page, running: RunningBoard) -> None:
    waits, before = [], phone.locator("article").count()
    for number, place in enumerate(("P00008", "P00009", "P00010"), 1):
        running.report(place, "exception", exception="scanner-jam")
        running.act(f"{place}.scanner-jam", "assign", rover=ROVER)
        given = time.monotonic()
        expect(phone.locator("article")).to_have_count(before + number, timeout=6_000)
        waits.append(time.monotonic() - given)
    assert max(waits) < WITHIN, waits


def test_the_rovers_page_shows_who_is_free_and_leads_to_the_case(desk: Page, running: RunningBoard) -> None:
    opened(desk, f"{running.address}/rovers")
    count = len(roster(running.office).rovers)
    expect(desk.locator(".pr-sentence")).to_contain_text(re.compile(rf"{count} rovers: \d+ free"))
    expect(desk.locator(".pr-rovers > li")).to_have_count(count)
    running.report("P00011", "exception", exception="no-power")
    row = desk.locator(".pr-rows button", has_text="no power").first
    expect(row).to_contain_text(re.compile("Suggested: .* min|Nobody: "))
    running.act("P00011.no-power", "on-site", rover=OTHER)
    item = desk.locator(".pr-rovers > li", has_text=OTHER)
    expect(item).to_contain_text("on site")
    item.get_by_role("link", name="On site at").click()
    expect(desk).to_have_url(re.compile("exceptions.*P00011.no-power"))


def test_the_rovers_sheets_are_saved_as_a_pdf_and_only_to_who_is_signed_in(
    desk: Page, chromium: Browser, running: RunningBoard
) -> None:
    opened(desk, f"{running.address}/rovers")
    with desk.expect_download() as saving:
        desk.get_by_role("link", name="Rovers' sheets").click()
    assert saving.value.suggested_filename == "rovers-2026-11-03.pdf"
    assert len(pypdfium2.PdfDocument(saving.value.path())) >= len(roster(running.office).rovers)
    stranger = chromium.new_context()
    answer = stranger.request.get(f"{running.address}/rovers-sheets.pdf", max_redirects=0)
    assert answer.status in (302, 303, 307, 401, 403)
    stranger.close()
    viewer = running.context(chromium, "Vi Ewer", Role.VIEWER)
    assert viewer.request.get(f"{running.address}/rovers-sheets.pdf").status == 200
    viewer.close()
