"""Material is taken in by keyboard alone in a real Chromium: ticks, a seal that differs, two roles."""

import re
from pathlib import Path

from playwright.sync_api import Browser, Page, expect

from tests.axe import faults
from tests.browser import chromium
from tests.dashboard.a_running_board import RunningBoard, a_running_board
from tests.dashboard.test_board_in_a_browser import opened

__all__ = ["chromium"]
HALF_PAST_EIGHT = "2026-11-03T20:30:00-06:00"
A_PLACE = "P00001"
WITHIN = 30_000


def left(board: RunningBoard) -> None:
    """The place has closed and its material is on the way."""
    board.report(A_PLACE, "step", step="closed", happened_at="2026-11-03T19:00:00-06:00")
    board.report(
        A_PLACE, "step", step="departed", items=["used-ballots", "keys"], happened_at="2026-11-03T20:10:00-06:00"
    )
    board.report(
        A_PLACE,
        "step",
        step="departed",
        item="used-ballots",
        seal_number="550055",
        happened_at="2026-11-03T20:10:00-06:00",
    )


def tab_to(page: Page, label: str) -> None:
    """Press Tab until the field or button of this name has the focus; the test fails where it is not on the way."""
    for _ in range(40):
        page.keyboard.press("Tab")
        field = page.get_by_label(label).or_(page.get_by_role("button", name=label)).first
        if field.evaluate("(each) => each === document.activeElement"):
            return
    raise AssertionError(f"{label} is not reached by Tab")


def test_a_place_is_taken_in_by_keyboard_alone(chromium: Browser, tmp_path: Path) -> None:
    with a_running_board(tmp_path / "data", HALF_PAST_EIGHT, places=3) as board:
        left(board)
        context = board.context(chromium, viewport={"width": 1366, "height": 768})
        page = context.new_page()
        opened(page, f"{board.address}/closing")
        expect(page.get_by_label("Place: its number")).to_be_focused(timeout=WITHIN)
        page.keyboard.type("p1")
        page.keyboard.press("Enter")
        expect(page.get_by_text(f"{A_PLACE}. On the way since 20:10")).to_be_visible(timeout=WITHIN)
        tab_to(page, "Used ballots, container sealed")
        page.keyboard.press("Space")
        tab_to(page, "Keys")
        page.keyboard.press("Space")
        tab_to(page, "Seal of Used ballots, container sealed: number found")
        assert "550055" not in page.content()
        page.keyboard.type("550056")
        page.keyboard.press("Tab")
        expect(page.get_by_text("found 550056, put on 550055.")).to_be_visible(timeout=WITHIN)
        assert faults(page) == []
        for label, role in (("Who reads aloud?", "receiving"), ("Who types and looks?", "desk")):
            tab_to(page, label)
            page.keyboard.type(role)
            expect(page.get_by_role("option", name=role).first).to_be_visible(timeout=WITHIN)
            page.keyboard.press("Enter")
            expect(page.get_by_role("combobox", name=label)).to_have_value(re.compile(role), timeout=WITHIN)
        tab_to(page, "Write down that it is in")
        page.keyboard.press("Enter")
        # the rest of the list is asked about first
        expect(page.get_by_text("Not ticked: Memory device")).to_be_visible(timeout=WITHIN)
        page.get_by_label("Two people looked").focus()
        page.keyboard.press("Space")
        tab_to(page, "Write down that it is in")
        page.keyboard.press("Enter")
        expect(page.get_by_text("Taken in at")).to_be_visible(timeout=WITHIN)
        expect(page.get_by_label("Place: its number")).to_be_focused(timeout=WITHIN)
        assert {"custody-gap", "item-missing"} <= {case["exception"] for case in board.ask("GET", "/cases")}
        context.close()
