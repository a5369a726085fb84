"""The week before, in a real Chromium: from an empty data folder to a rehearsed county, a newcomer's clicks counted."""

import time
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from county import desk, staffing, upkeep
from county.clock import Clock
from county.domain.entries import REPORT_KINDS
from county.domain.plan_versions import FILE
from county.plans import standing
from county.rehearsed import results
from county.setting_up import SAMPLE_PLAN, set_up
from county.settings import Settings, settings_from
from county.wiring import Office, open_office
from tests.axe import faults
from tests.browser import chromium
from tests.dashboard.a_newcomer import Newcomer
from tests.dashboard.a_running_board import _running
from tests.ingest.a_process import free_port

__all__ = ["chromium"]
TABLES = ("places", "precincts", "devices", "seals", "rovers")
MOST_CLICKS = 40
MADE_UP_MIND = "four words with spaces"
REHEARSED = 5


@dataclass(frozen=True)
class Begun:
    """A county that has only been begun, with its two programs running."""

    settings: Settings
    password: str
    address: str

    def office(self) -> Office:
        return open_office(self.settings)


@pytest.fixture
def begun(tmp_path: Path) -> Iterator[Begun]:
    """`init` in an empty folder, the county's own election day in plan.toml, a week ahead; both programs started."""
    port, endpoint_port = free_port(), free_port()
    said = {
        "DATA": str(tmp_path / "data"),
        "BOARD_PORT": str(port),
        "PORT": str(endpoint_port),
        "ADDRESS": "http://192.0.2.10:8100",
    }
    settings = settings_from({f"POLLRISE_{name}": value for name, value in said.items()})
    made = set_up(settings)
    day = (Clock().now() + timedelta(days=7)).date()
    text = settings.plan.read_text(encoding="utf-8").replace("date = 2026-11-03", f"date = {day}")
    settings.plan.write_text(text, encoding="utf-8")
    with ExitStack() as stack:
        stack.enter_context(_running("ingest", said, endpoint_port, "/health"))
        stack.enter_context(_running("dashboard", said, port, "/_stcore/health"))
        yield Begun(settings, made.password, f"http://127.0.0.1:{port}")


@pytest.fixture
def page(chromium: Browser, begun: Begun) -> Iterator[Page]:
    context = chromium.new_context(viewport={"width": 1366, "height": 768}, accept_downloads=True)
    page = context.new_page()
    page.set_default_timeout(30_000)
    page.goto(begun.address)
    yield page
    context.close()


def sentence(page: Page) -> str:
    return page.locator(".pr-sentence").inner_text()


def test_a_newcomer_sets_the_county_up_and_rehearses_it_in_fewer_than_forty_clicks(
    page: Page, begun: Begun, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    newcomer = Newcomer(page)
    signs_in_for_the_first_time(newcomer, begun.password)
    newcomer.clicks_on(page.get_by_role("link", name="Set-up"), "Set-up")
    expect(page.locator(".pr-sentence")).to_contain_text("Not ready")
    assert faults(page) == []
    loads_the_roster(newcomer, tmp_path)
    looks_at_the_plan_and_makes_it_the_days(newcomer)
    prints_the_cards(newcomer, tmp_path)
    adds_people(newcomer)
    rehearses(newcomer)
    newcomer.opens("To do")
    expect(page.locator(".pr-sentence")).to_contain_text("Ready, with")
    assert faults(page) == []
    with capsys.disabled():
        print(f"\nthe week before: {newcomer.clicks} clicks: {'; '.join(newcomer.did)}")
    assert newcomer.clicks < MOST_CLICKS

    office = begun.office()
    assert not office.plan.election.rehearsal
    seen_in_the_file, made = standing(office).versions
    assert (seen_in_the_file.door, seen_in_the_file.seq, made.by) == (FILE, 1, "desk")
    assert len(upkeep.live_keys(office)) == 48 + 8 + 1
    assert {person.name for person in staffing.everyone(office)} == {"desk", "Ann Lee", "Bo Fenn"}
    (result,) = results(office.settings)
    assert (result.whole, result.places, result.heard > 0, result.broken) == (True, REHEARSED, True, 0)
    assert not {entry["kind"] for entry in desk.ledger_pages(office)} & set(REPORT_KINDS)
    office.engine.dispose()


def signs_in_for_the_first_time(newcomer: Newcomer, password: str) -> None:
    newcomer.types("Name", "desk")
    newcomer.types("Password", password)
    newcomer.presses("Sign in")
    newcomer.types("The first password", password)
    newcomer.types("The new one", MADE_UP_MIND)
    newcomer.types("The new one again", MADE_UP_MIND)
    newcomer.presses("Keep it")
    newcomer.page.wait_for_selector(".pr-sentence")


def loads_the_roster(newcomer: Newcomer, folder: Path) -> None:
    """One mistake stands in the way, is named with its row and column, and is put right in the file."""
    page, places = newcomer.page, SAMPLE_PLAN.with_name("places.csv")
    wrong = folder / "places.csv"
    wrong.write_text(places.read_text(encoding="utf-8").replace("41.87496", "north of here", 1), encoding="utf-8")
    newcomer.opens("Roster")
    newcomer.drops([wrong, *(SAMPLE_PLAN.with_name(f"{table}.csv") for table in TABLES[1:])])
    expect(page.locator(".pr-verdict")).to_contain_text("1 problem stands in the way")
    problem = page.locator("table.pr-plain tbody tr").first
    expect(problem).to_contain_text("row 2")
    expect(problem).to_contain_text("latitude")
    expect(page.get_by_role("button", name="Load this roster")).to_be_disabled()
    newcomer.clicks_on(page.get_by_role("button", name="Remove places.csv").first, "Remove places.csv")
    newcomer.drops([places])
    expect(page.locator(".pr-verdict")).to_contain_text("48 places")
    assert faults(page) == []
    newcomer.presses("Load this roster")
    expect(page.locator(".pr-done")).to_contain_text("48 places")


def looks_at_the_plan_and_makes_it_the_days(newcomer: Newcomer) -> None:
    page = newcomer.page
    newcomer.opens("Plan")
    newcomer.opens("Steps")
    expect(page.locator("table.pr-plain")).to_contain_text("Zero report printed and signed")
    newcomer.opens("Ladder")
    expect(page.locator("table.pr-plain")).to_contain_text("at once")
    newcomer.presses("Make it the real day")
    expect(page.get_by_text("Is it meant?")).to_be_visible()
    newcomer.presses("Yes, make it so")
    expect(page.locator(".pr-done")).to_contain_text("is the plan, in every program from now on")
    expect(page.locator(".pr-not-real")).to_have_count(0)


def prints_the_cards(newcomer: Newcomer, folder: Path) -> None:
    page = newcomer.page
    newcomer.opens("Keys and cards")
    newcomer.presses("Issue keys to 48 places and 8 rovers")
    download = page.get_by_role("button", name="Download the cards")
    expect(download).to_be_visible()
    with page.expect_download() as got:
        newcomer.clicks_on(download)
    got.value.save_as(folder / "cards.pdf")
    assert (folder / "cards.pdf").read_bytes().startswith(b"%PDF")
    newcomer.presses("I have them")
    expect(download).to_have_count(0)


def adds_people(newcomer: Newcomer) -> None:
    page = newcomer.page
    newcomer.opens("People")
    for name, role in (("Ann Lee", "desk"), ("Bo Fenn", "lead")):
        newcomer.types("Name of somebody new", name)
        if role != "desk":
            newcomer.clicks_on(page.get_by_text(f"{role}: "), role)
        newcomer.presses("Add")
        expect(page.get_by_text(f"The first password of {name}")).to_be_visible()
        newcomer.presses("I have written it down")
    expect(page.locator("table.pr-plain tbody tr")).to_have_count(3)


def rehearses(newcomer: Newcomer) -> None:
    page = newcomer.page
    newcomer.opens("Rehearsal")
    newcomer.types("How many places?", str(REHEARSED))
    newcomer.presses("Start the rehearsal")
    expect(page.get_by_text("in a ledger of its own …")).to_be_visible()
    begun = time.monotonic()
    expect(page.locator(".pr-verdict").first).to_contain_text("has ended", timeout=90_000)
    assert time.monotonic() - begun < 90
    expect(page.locator(".pr-verdict").last).to_contain_text(f"{REHEARSED} of {REHEARSED} places heard from")
