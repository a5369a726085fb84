"""`python -m docs.make_set_up_pictures`: the README's pictures of the week before, from a county just begun.

The sample county's lists are dropped with one mistake in them, as a county's own lists have.
"""

import shutil
import sys
import tempfile
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from datetime import timedelta
from pathlib import Path

from playwright.sync_api import Page, expect, sync_playwright

from county.clock import Clock
from county.rehearsal.children import Child, address, free_port
from county.setting_up import SAMPLE_PLAN, set_up
from county.settings import settings_from
from docs.make_pictures import HIGH, WIDE, taken

HOST = "127.0.0.1"
PASSWORD = "four words with spaces"  # noqa: S105  of an account that is gone with its folder
OTHERS = ("precincts", "devices", "seals", "rovers")


def main() -> int:
    """Make set-up-roster.png and set-up.png."""
    chromium = next((path for path in map(shutil.which, ("chromium", "google-chrome")) if path), None)
    with a_county_begun() as (board, first, folder), sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox", "--disable-gpu"])
        page = browser.new_page(viewport={"width": WIDE, "height": HIGH})
        page.goto(board)
        _sign_in(page, first)
        _drop_lists(page, folder)
        taken(page, "set-up-roster")
        page.get_by_role("button", name="Remove places.csv").first.click()
        page.locator("input[type=file]").set_input_files([SAMPLE_PLAN.with_name("places.csv")])
        expect(page.locator(".pr-verdict")).to_contain_text("48 places")
        page.get_by_role("button", name="Load this roster").click()
        expect(page.locator(".pr-done")).to_be_visible()
        page.get_by_role("radio", name="To do").click()
        page.wait_for_timeout(1_000)
        taken(page, "set-up")
        browser.close()
    return 0


@contextmanager
def a_county_begun() -> Iterator[tuple[str, str, Path]]:
    """A data folder with the sample plan, its day a week ahead, and the two programs over it, all gone at the end."""
    with tempfile.TemporaryDirectory(prefix="pollrise-pictures-") as name, ExitStack() as stack:
        folder = Path(name)
        port, board_port = free_port(HOST), free_port(HOST)
        settings = settings_from(
            {
                "POLLRISE_DATA": str(folder / "data"),
                "POLLRISE_PORT": str(port),
                "POLLRISE_BOARD_PORT": str(board_port),
            }
        )
        made = set_up(settings)
        day = (Clock().now() + timedelta(days=7)).date()
        text = settings.plan.read_text(encoding="utf-8").replace("date = 2026-11-03", f"date = {day}")
        settings.plan.write_text(text, encoding="utf-8")
        for module, at in (("ingest", f"{address(HOST, port)}/health"), ("dashboard", _alive(board_port))):
            child = Child.start(module, settings, at, folder / f"{module}.txt")
            stack.callback(child.stop)
            child.wait_until_ready()
        yield address(HOST, board_port), made.password, folder


def _alive(board_port: int) -> str:
    return f"{address(HOST, board_port)}/_stcore/health"


def _sign_in(page: Page, first: str) -> None:
    page.get_by_label("Name", exact=True).fill("desk")
    page.get_by_label("Password", exact=True).fill(first)
    page.get_by_role("button", name="Sign in").click()
    page.get_by_label("The first password").fill(first)
    page.get_by_label("The new one", exact=True).fill(PASSWORD)
    page.get_by_label("The new one again").fill(PASSWORD)
    page.get_by_role("button", name="Keep it").click()
    page.wait_for_selector(".pr-sentence")
    page.get_by_role("link", name="Set-up").click()


def _drop_lists(page: Page, folder: Path) -> None:
    """The sample county's lists, with a latitude and an opening time that are none."""
    page.get_by_role("radio", name="Roster").click()
    wrong = folder / "places.csv"
    text = SAMPLE_PLAN.with_name("places.csv").read_text(encoding="utf-8")
    wrong.write_text(text.replace("41.87496", "north of here", 1).replace("07:00", "25:00", 1), encoding="utf-8")
    page.locator("input[type=file]").set_input_files([wrong, *(SAMPLE_PLAN.with_name(f"{t}.csv") for t in OTHERS)])
    expect(page.locator(".pr-verdict")).to_contain_text("in the way")


if __name__ == "__main__":
    sys.exit(main())
