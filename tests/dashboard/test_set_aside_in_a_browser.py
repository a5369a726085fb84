"""A refused report is put right at the board in a real Chromium while others come in, and the place shows it."""

from collections.abc import Iterator
from http.client import HTTPConnection
from json import dumps

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.axe import faults
from tests.browser import chromium
from tests.dashboard.a_running_board import RunningBoard, a_running_board
from tests.dashboard.test_board_in_a_browser import opened, revision, wait_for_newer

__all__ = ["chromium"]


@pytest.fixture(scope="module")
def running(tmp_path_factory: pytest.TempPathFactory, chromium: Browser) -> Iterator[RunningBoard]:
    """One county, from which one report comes that cannot be understood."""
    with a_running_board(tmp_path_factory.mktemp("aside") / "data") as board:
        yield board


@pytest.fixture
def page(chromium: Browser, running: RunningBoard) -> Iterator[Page]:
    """The page of what was set aside, with Ann Lee at the desk."""
    assert refused(running, {"key": "k-1", "place": "P00005", "kind": "note", "nte": "chairs are short"}) == 422
    with running.tab(chromium) as page:
        yield opened(page, f"{running.address}/set-aside")


def refused(running: RunningBoard, report: dict[str, str]) -> int:
    """Send a report that is refused; the status it was answered with."""
    connection = HTTPConnection("127.0.0.1", running.endpoint_port, timeout=30)
    try:
        connection.request("POST", "/reports", dumps(report), {"Authorization": f"Bearer {running.desk_key}"})
        return connection.getresponse().status
    finally:
        connection.close()


def test_a_refused_report_is_put_right_while_others_come_in(page: Page, running: RunningBoard) -> None:
    expect(page.locator(".pr-aside")).to_contain_text("no such field")
    page.get_by_label("nte", exact=True).fill("")
    page.get_by_role("combobox", name="One more field").click()
    page.keyboard.type("note")
    page.get_by_role("option", name="note", exact=True).click()
    value = page.get_by_label("Its value")
    value.press_sequentially("chairs are")
    before = revision(page)
    running.report("P00006", "exception", exception="no-power")
    wait_for_newer(page, before)
    assert page.evaluate("document.activeElement.value") == "chairs are"
    page.keyboard.type(" short")
    assert faults(page) == []
    page.get_by_role("button", name="Take it in").dblclick()
    expect(page.locator(".pr-sentence")).to_have_text("Everything that was set aside has been settled. ")
    entries = running.ask("GET", "/ledger?limit=1000")
    told = [each for each in entries if each["door"] == "board" and each["kind"] != "person"]
    assert [each["kind"] for each in told] == ["note", "set-aside-outcome"]
    assert (told[0]["key"], told[0]["place"], told[0]["note"]) == ("k-1", "P00005", "chairs are short")
    assert {each["by"] for each in told} == {"Ann Lee"}
