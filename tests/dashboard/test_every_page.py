"""What holds of every page of the board, whichever is added: nothing from elsewhere, no wider than its screen, axe."""

from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Page, ViewportSize

from county.desk import roster
from county.domain.intake import Hand
from county.messaging import send
from tests.axe import faults
from tests.browser import chromium
from tests.dashboard.a_running_board import RunningBoard, a_running_board
from tests.dashboard.test_board_in_a_browser import opened

__all__ = ["chromium"]
FILES = sorted((Path(__file__).parents[2] / "dashboard" / "pages_").glob("[a-z]*.py"))
PATHS = ["/", "/?wall=1", *(f"/{file.stem.replace('_', '-')}" for file in FILES if file.stem != "county")]
DESK, WALL, PHONE = (1366, 768), (1920, 1080), (390, 844)
LOOKS = (((DESK, WALL), "light"), ((PHONE,), "dark"))
TOO_WIDE = """
[...document.querySelectorAll('[data-testid=stMainBlockContainer] *')]
.filter(each => each.getBoundingClientRect().right > innerWidth + 1)
.filter(each => getComputedStyle(each).position !== 'absolute' && !each.closest('.st-key-day, .pr-wide'))
.map(each => each.className || each.tagName)
"""


@pytest.fixture(scope="module")
def running(tmp_path_factory: pytest.TempPathFactory, chromium: Browser) -> Iterator[RunningBoard]:
    """A county in which every page has something to show: trouble, a message that waits, something set aside."""
    with a_running_board(tmp_path_factory.mktemp("county") / "data") as board:
        board.report("P00001", "exception", exception="fire", note="Smoke from the kitchen")
        board.report("P00001", "step", step="staffed", officers_present=4)
        _tell(board)
        with pytest.raises(AssertionError):
            board.report("P00002", "count", copies=3, note="A count has no copies, and this one has a long note to it.")
        yield board


def _tell(board: RunningBoard) -> None:
    """A message that some places have not acknowledged."""
    office, the_roster = board.office, roster(board.office)
    hand = Hand("desk:Front desk", "Ann Lee", "board", office.clock.now(), office.clock.word)
    text = "By order of the court polls stay open until 19:30.\nTell the line; put the notice on the door."
    send(office, the_roster, "m-1", text, "chosen places", [each.place for each in the_roster.places[:9]], hand)


@pytest.mark.parametrize(("sizes", "scheme"), LOOKS, ids=["desk and wall", "phone"])
def test_no_page_is_wider_than_its_screen_or_asks_another_host_or_has_a_grave_fault(
    chromium: Browser, running: RunningBoard, sizes: tuple[tuple[int, int], ...], scheme: str
) -> None:
    context = running.context(chromium, viewport=as_size(sizes[0]), color_scheme=scheme)
    asked: list[str] = []
    context.on("request", lambda request: asked.append(request.url))
    page = context.new_page()
    page.on("websocket", lambda socket: asked.append(socket.url))
    wide, grave = {}, {}
    # the wall is a large screen: nobody looks at it on a phone
    paths = [path for path in PATHS if sizes != (PHONE,) or "wall" not in path]
    for path in paths:
        drawn(page, running, path)
        for size in sizes:
            fitted(page, size)
            wide[path, size] = page.evaluate(TOO_WIDE)
        for size in sizes:
            # the wall shows what the desk shows, larger
            if size == WALL and "wall" not in path:
                continue
            fitted(page, size)
            for each in page.locator("[data-testid=stMainBlockContainer] details").all():
                each.evaluate("(each) => { each.open = true }")
            grave[path, size] = faults(page)
    context.close()
    assert {look: each for look, each in wide.items() if each} == {}
    assert {look: each for look, each in grave.items() if each} == {}
    assert len(asked) > 20 * len(paths)
    ours = {urlsplit(running.address).netloc, ""}
    assert {urlsplit(url).netloc for url in asked if not url.startswith(("data:", "blob:"))} <= ours


def as_size(size: tuple[int, int]) -> ViewportSize:
    return {"width": size[0], "height": size[1]}


def fitted(page: Page, size: tuple[int, int]) -> None:
    """The page on a screen of this size, laid out anew where it was another."""
    if page.viewport_size != as_size(size):
        page.set_viewport_size(as_size(size))
        page.wait_for_timeout(300)


def drawn(page: Page, running: RunningBoard, path: str) -> None:
    """The page with everything drawn on it."""
    opened(page, f"{running.address}{path}")
    page.wait_for_selector("[data-testid=stApp][data-test-script-state=notRunning]")
    page.wait_for_timeout(300)
