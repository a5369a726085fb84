"""The door in a real Chromium: in, out, thrown out; no serious fault on its pages, at three widths, light and dark."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from county import staffing
from county.domain.people import Person, Role
from tests.axe import faults
from tests.browser import chromium
from tests.dashboard.a_running_board import RunningBoard, a_running_board
from tests.dashboard.sign_in.a_door import OWN, AtTheDoor, a_door

__all__ = ["chromium"]
SIZES = ((1366, 768), (1920, 1080), (390, 844))


@pytest.fixture(scope="module")
def running(tmp_path_factory: pytest.TempPathFactory, chromium: Browser) -> Iterator[RunningBoard]:
    with a_running_board(tmp_path_factory.mktemp("door") / "data", places=3) as board:
        yield board


@pytest.fixture
def door(tmp_path: Path) -> Iterator[AtTheDoor]:
    with a_door(tmp_path) as at:
        yield at


def fill_in(page: Page, **fields: str) -> None:
    for label, value in fields.items():
        page.get_by_label(label.replace("_", " "), exact=True).fill(value)


def test_a_new_person_comes_in_by_a_first_password_and_hands_over(chromium: Browser, running: RunningBoard) -> None:
    first = staffing.add_person(running.office, Person("Ida Fenn", Role.DESK))
    context = chromium.new_context()
    page = context.new_page()
    page.goto(f"{running.address}/exceptions")
    expect(page).to_have_url(re.compile("/sign-in"))
    fill_in(page, Name="ida fenn", Password=first)
    page.get_by_role("button", name="Sign in").click()
    expect(page.locator("h1")).to_have_text("Choose your own password")
    fill_in(page, The_first_password=first, The_new_one=OWN, The_new_one_again=OWN)
    page.get_by_role("button", name="Keep it").click()
    expect(page.locator(".pr-who")).to_contain_text("Ida Fenn, desk")
    page.get_by_role("link", name="hand over or sign out").click()
    page.get_by_label("For the next person").fill("Rover 3 has the spare")
    page.get_by_role("button", name="Sign out").click()
    expect(page.locator("h1")).to_have_text("Sign in to the board")
    page.go_back()
    page.goto(f"{running.address}/exceptions")
    expect(page).to_have_url(re.compile("/sign-in"))
    context.close()
    next_one = running.context(chromium).new_page()
    next_one.goto(f"{running.address}/exceptions")
    expect(next_one.locator(".pr-handed")).to_contain_text("Handed over by Ida Fenn")
    expect(next_one.locator(".pr-handed")).to_contain_text("Rover 3 has the spare")
    next_one.context.close()


def test_an_open_page_of_somebody_who_is_revoked_leads_to_the_door_within_seconds(
    chromium: Browser, running: RunningBoard
) -> None:
    context = running.context(chromium, name="Rex Holt", role=Role.DESK)
    page = context.new_page()
    page.goto(f"{running.address}/exceptions")
    expect(page.locator(".pr-who")).to_contain_text("Rex Holt")
    page.wait_for_function("globalThis.__pollrise?.beat?.revision > 0")
    staffing.add_person(running.office, Person("Ann Lee", Role.LEAD))
    staffing.end_account(running.office, "Rex Holt")
    expect(page).to_have_url(re.compile(r"/sign-in\?next=%2Fexceptions"), timeout=6_000)
    expect(page.locator("h1")).to_have_text("Sign in to the board")
    context.close()


def test_a_reload_asks_for_nothing(chromium: Browser, running: RunningBoard) -> None:
    context = running.context(chromium)
    page = context.new_page()
    page.goto(running.address)
    expect(page.locator(".pr-who")).to_contain_text("Ann Lee")
    page.reload()
    expect(page.locator(".pr-who")).to_contain_text("Ann Lee")
    context.close()


def test_a_page_that_is_not_for_a_role_can_be_read_by_everybody(chromium: Browser, running: RunningBoard) -> None:
    for scheme in ("light", "dark"):
        context = running.context(chromium, name="Vi Moss", role=Role.VIEWER, color_scheme=scheme)
        page = context.new_page()
        page.goto(f"{running.address}/call")
        expect(page.locator(".pr-sentence")).to_contain_text("Take a call is not for your role.")
        expect(page.get_by_role("link", name="Take a call")).to_have_count(0)
        assert faults(page) == []
        context.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_page_of_the_door_has_a_serious_fault_or_is_wider_than_its_screen(
    chromium: Browser, door: AtTheDoor, scheme: str
) -> None:
    first = staffing.add_person(door.office, Person("Ann Lee", Role.LEAD))
    context = chromium.new_context(color_scheme=scheme)  # type: ignore[arg-type]
    page = context.new_page()
    page.goto(f"{door.address}/sign-in")
    checked(page)
    fill_in(page, Name="Ann Lee", Password="not the password")
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("alert")).to_have_text("That name and password do not go together.")
    checked(page)
    fill_in(page, Password=first)
    page.get_by_role("button", name="Sign in").click()
    expect(page.locator("h1")).to_have_text("Choose your own password")
    checked(page)
    page.goto(f"{door.address}/sign-out")
    checked(page)
    context.close()


def checked(page: Page) -> None:
    """The page that is shown, at each width; there is no script in it that could mind."""
    for width, height in SIZES:
        page.set_viewport_size({"width": width, "height": height})
        assert faults(page) == []
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
