"""`python -m docs.make_pictures`: the README's pictures, from the board of a demo that it starts and stops.

The demo's county is invented, and its pictures say that it is a rehearsal and not the real clock.
"""

import re
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from uuid import uuid4

import httpx
from playwright.sync_api import Page, sync_playwright

PICTURES = Path(__file__).parent / "pictures"
SPEED = 30
WIDE, HIGH = 1366, 768
BEFORE_OPENING = "document.querySelector('.pr-sentence')?.textContent.startsWith('19 minutes to opening')"
IN_HAND, MID_MORNING = "06:12", "06:31"
DESK = "Noor Ellery"


@dataclass(frozen=True)
class Demo:
    """The addresses that a demo printed, its lead's password, and its desk's key."""

    board: str
    password: str
    endpoint: str
    key: str


def main() -> int:
    """Make county.png, exceptions.png and place.png."""
    PICTURES.mkdir(exist_ok=True)
    chromium = next((path for path in map(shutil.which, ("chromium", "google-chrome")) if path), None)
    with a_demo() as demo, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox", "--disable-gpu"])
        page = browser.new_page(viewport={"width": WIDE, "height": HIGH})
        page.goto(demo.board)
        page.get_by_label("Name").fill(DESK)
        page.get_by_label("Password").fill(demo.password)
        page.get_by_role("button", name="Sign in").click()
        page.wait_for_function(BEFORE_OPENING, timeout=300_000)
        taken(page, "county")
        page.goto(f"{demo.board}/exceptions")
        wait_for(page, IN_HAND)
        somebody_sees_to_them(demo)
        wait_for(page, MID_MORNING)
        page.locator(".pr-rows-cases li", has_text="seal number").first.locator("button").click()
        taken(page, "exceptions")
        page.goto(f"{demo.board}/place")
        taken(page, "place")
        browser.close()
    return 0


@contextmanager
def a_demo() -> Iterator[Demo]:
    """A rough day of the sample county, the same every time, stopped at the end."""
    command = [sys.executable, "-m", "county.rehearsal.demo", "--regime", "rough", "--any-ports", "--speed", str(SPEED)]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    assert process.stdout is not None
    said = ""
    try:
        for line in process.stdout:
            said += line
            if "Made up" in line:
                break
        found = re.search(rf"Board\s+(\S+).*{DESK}\s+(\S+).*Endpoint\s+(\S+).*desk's key\s+(\S+)", said, re.DOTALL)
        assert found, said
        yield Demo(*found.groups())
    finally:
        process.send_signal(signal.SIGINT)
        process.wait(timeout=30)


def wait_for(page: Page, clock: str) -> None:
    """Wait until the board's own clock has come to this wall time."""
    while page.locator(".pr-fresh b").first.inner_text() < clock:
        time.sleep(0.2)


def taken(page: Page, name: str) -> None:
    """Wait until the page is drawn, and take its picture."""
    page.wait_for_selector(".pr-sentence")
    page.wait_for_timeout(900)
    page.screenshot(path=PICTURES / f"{name}.png")
    print(f"docs/pictures/{name}.png: {page.locator('.pr-sentence').inner_text()}", flush=True)


def somebody_sees_to_them(demo: Demo) -> None:
    """Take the worst cases in hand as a desk does, so that the page shows cases in every state."""
    with httpx.Client(base_url=demo.endpoint, headers={"Authorization": f"Bearer {demo.key}"}, trust_env=False) as desk:
        worst = desk.get("/cases").json()
        for number, case in enumerate(worst[:9]):
            steps = ("acknowledge", "assign", "under-way", "on-site")[: number % 5]
            for step in steps:
                told = {"key": uuid4().hex, "action": step} | (
                    {"rover": f"R0{number % 8 + 1}"} if step == "assign" else {}
                )
                desk.post(f"/cases/{case['case']}/actions", json=told).raise_for_status()


if __name__ == "__main__":
    sys.exit(main())
