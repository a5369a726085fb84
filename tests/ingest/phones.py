"""Phones for tests of the pages that officers and rovers carry, and what must not be seen on a small screen."""

from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from tests.browser import PHONE

CUT_OFF = """
[...document.querySelectorAll('button, a, label, h1, h2, p, dt, dd, legend, summary')].filter((each) => {
  const style = getComputedStyle(each);
  if (!each.offsetParent || style.position === 'absolute') return false;
  const hidden = style.display !== 'inline' && each.clientWidth > 0 && each.scrollWidth > each.clientWidth + 1;
  return hidden || each.getBoundingClientRect().right > 391;
}).map((each) => each.textContent)
"""
NewPhone = Callable[..., Page]


@pytest.fixture
def new_phone(chromium: Browser) -> Iterator[NewPhone]:
    """Phones, each with a memory of its own; what goes wrong in their scripts fails the test."""
    contexts: list[BrowserContext] = []
    wrong: list[str] = []

    def make(**more: object) -> Page:
        contexts.append(chromium.new_context(**PHONE, **more))  # type: ignore[arg-type]
        page = contexts[-1].new_page()
        page.set_default_timeout(30_000)
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.on("console", lambda said: wrong.append(said.text) if "Content Security Policy" in said.text else None)
        page.on("dialog", lambda dialog: wrong.append(f"dialog: {dialog.message}"))
        return page

    yield make
    for context in contexts:
        context.close()
    assert wrong == []
