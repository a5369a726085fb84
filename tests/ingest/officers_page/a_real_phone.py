"""A Chromium as a process of its own with a memory on the disk, so that its battery can die and it starts again."""

import os
import signal
import subprocess
import time
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Browser, Page, Playwright

from tests.browser import ARGUMENTS, chromium_path

STARTS_WITHIN = 30


@dataclass
class RealPhone:
    """One phone: `memory` is its folder; switched on it has a page."""

    playwright: Playwright
    memory: Path
    child: subprocess.Popen[bytes] | None = None
    browser: Browser | None = None

    def switch_on(self) -> Page:
        """Start it and open a page on it."""
        port_file = self.memory / "DevToolsActivePort"
        port_file.unlink(missing_ok=True)
        self.child = subprocess.Popen(
            [
                chromium_path(),
                "--headless=new",
                *ARGUMENTS,
                "--remote-debugging-port=0",
                f"--user-data-dir={self.memory}",
                "about:blank",
            ],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
        until = time.monotonic() + STARTS_WITHIN
        while not (port_file.exists() and port_file.read_text().count("\n")):
            assert time.monotonic() < until, "Chromium did not start"
            time.sleep(0.02)
        port = port_file.read_text().split("\n")[0]
        self.browser = self.playwright.chromium.connect_over_cdp(f"http://127.0.0.1:{port}")
        page = self.browser.contexts[0].pages[0]
        page.set_viewport_size({"width": 390, "height": 844})
        page.set_default_timeout(30_000)
        return page

    def switch_off(self) -> None:
        """End as a browser does when it is closed."""
        assert self.browser is not None
        assert self.child is not None
        self.browser.new_browser_cdp_session().send("Browser.close")
        self.child.wait(STARTS_WITHIN)
        self.child = self.browser = None

    def battery_dies(self) -> None:
        """Everything it does ends this instant, nothing is closed or saved."""
        if self.child is None:
            return
        with suppress(ProcessLookupError):
            os.killpg(self.child.pid, signal.SIGKILL)
        self.child.wait()
        self.child = None
        if self.browser is not None:
            self.browser.close()
            self.browser = None
