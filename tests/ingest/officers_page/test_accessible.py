"""axe-core finds no serious or critical fault on any page of the sheet, light and dark."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.axe import faults
from tests.browser import PHONE
from tests.ingest.officers_page.a_county import County
from tests.ingest.officers_page.by_hand import do_step, section, signed_in


@pytest.fixture(scope="module", params=["light", "dark"])
def page(request: pytest.FixtureRequest, chromium: Browser, shared_county: County) -> Iterator[Page]:
    """A phone whose sheet has something of everything on it: done, stopped, told as trouble, and not yet done."""
    context = chromium.new_context(**PHONE, color_scheme=request.param)  # type: ignore[arg-type]
    page = signed_in(context.new_page(), shared_county.way_in())
    if request.param == "light":
        do_step(page, "t-staffed")
        expect(page.locator("#t-site-ready")).to_be_visible()
        do_step(page, "t-site-ready", route_inches="30")
        expect(section(page).locator(".reports .stop")).to_be_visible()
        page.get_by_role("link", name="Help").click()
        page.get_by_role("button", name="No power").click()
        expect(page.locator("#office")).to_contain_text("No power")
    yield page
    context.close()


@pytest.mark.parametrize(
    "view",
    [
        "#sheet",
        "#t-staffed",
        "#t-site-ready",
        "#t-seals-checked-SC-0141-front",
        "#t-zero-report-SC-0141",
        "#t-open",
        "#t-balanced",
        "#t-departed",
        "#count",
        "#steps",
        "#help",
    ],
)
def test_no_grave_fault_in_a_view_of_the_sheet(page: Page, shared_county: County, view: str) -> None:
    page.goto(f"{shared_county.address}/at/P014{view}")
    for each in page.locator("details").all():
        if each.is_visible():
            each.evaluate("(each) => { each.open = true }")
    assert faults(page) == []


def test_no_grave_fault_while_things_wait_on_the_phone(page: Page, shared_county: County) -> None:
    # light and dark share the county, so each takes a scanner that is still to be told of
    task = page.locator("section[id^=t-zero-report]:not(.done)").first.get_attribute("id")
    assert task
    page.goto(f"{shared_county.address}/at/P014#{task}")
    page.context.set_offline(True)
    do_step(page, task, public_counter="7")
    expect(section(page).locator(".local .stop")).to_be_visible()
    expect(page.locator("#strip .waits")).to_be_visible()
    assert faults(page) == []
    page.context.set_offline(False)
    page.evaluate("dispatchEvent(new Event('online'))")
    expect(page.locator("#strip .kept")).to_be_visible()


def test_no_grave_fault_where_the_key_is_asked_for_or_refused(page: Page, shared_county: County) -> None:
    page.goto(f"{shared_county.address}/at/P015")
    assert faults(page) == []
    page.locator("#k").fill("pr_wrong")
    page.get_by_role("button", name="Open the sheet").click()
    expect(page.locator(".wrong")).to_be_visible()
    assert faults(page) == []
    page.goto(f"{shared_county.address}/at/P015?k={shared_county.keys['P014']}")
    expect(page.locator("h1")).to_have_text("Not this sheet")
    assert faults(page) == []
