"""A Chromium for the tests that look at pages as people do: headless, quiet, and the same for every part."""

import os
import shutil
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from types import MappingProxyType

import pytest
from playwright.sync_api import Browser, expect, sync_playwright

ARGUMENTS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
WAIT = 20_000
PHONE: Mapping[str, object] = MappingProxyType(
    {"viewport": {"width": 390, "height": 844}, "device_scale_factor": 2, "is_mobile": True, "has_touch": True}
)
_NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")


def chromium_path() -> str:
    """Where a Chromium is: as CHROMIUM says, or as found; skips the test, saying so, where there is none."""
    found = os.environ.get("CHROMIUM") or next((path for path in map(shutil.which, _NAMES) if path), "")
    if not found:
        pytest.skip("no Chromium: install one, or say where it is with CHROMIUM=/path/to/it")
    return found


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    """One browser for the tests of a file; each opens contexts of its own. It ends with them, as its loop does."""
    with a_chromium() as browser:
        yield browser


@contextmanager
def a_chromium() -> Iterator[Browser]:
    """A browser for as long as this lasts; what is waited for may take its time, because the machine may be busy."""
    expect.set_options(timeout=WAIT)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium_path(), args=list(ARGUMENTS))
        yield browser
        browser.close()
