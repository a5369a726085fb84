"""What holds of every page of the board, whichever is added: nothing from elsewhere, no wider than its screen, axe."""

from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Page

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
LOOKS = (((1366, 768), "light"), ((1920, 1080), "light"), ((390, 844), "dark"))
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


@pytest.mark.parametrize(("size", "scheme"), LOOKS, ids=["desk", "wall", "phone"])
def test_no_page_is_wider_than_its_screen_or_asks_another_host_or_has_a_grave_fault(
    chromium: Browser, running: RunningBoard, size: tuple[int, int], scheme: str
) -> None:
    context = running.context(chromium, viewport={"width": size[0], "height": size[1]}, color_scheme=scheme)
    asked: list[str] = []
    context.on("request", lambda request: asked.append(request.url))
    page = context.new_page()
    page.on("websocket", lambda socket: asked.append(socket.url))
    wide, grave = {}, {}
    # the wall is a large screen: nobody looks at it on a phone
    paths = [path for path in PATHS if size[0] > 400 or "wall" not in path]
    for path in paths:
        drawn(page, running, path)
        wide[path] = page.evaluate(TOO_WIDE)
        for each in page.locator("[data-testid=stMainBlockContainer] details").all():
            each.evaluate("(each) => { each.open = true }")
        # the wall shows what the desk shows, larger
        grave[path] = faults(page) if size[0] < 1920 or "wall" in path else []
    context.close()
    assert {path: each for path, each in wide.items() if each} == {}
    assert {path: each for path, each in grave.items() if each} == {}
    assert len(asked) > 20 * len(paths)
    ours = {urlsplit(running.address).netloc, ""}
    assert {urlsplit(url).netloc for url in asked if not url.startswith(("data:", "blob:"))} <= ours


def drawn(page: Page, running: RunningBoard, path: str) -> None:
    """The page with everything drawn on it."""
    opened(page, f"{running.address}{path}")
    page.wait_for_selector("[data-testid=stApp][data-test-script-state=notRunning]")
    page.wait_for_timeout(300)
