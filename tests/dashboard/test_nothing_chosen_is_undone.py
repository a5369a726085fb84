"""A redraw leaves every field as it is: set again by the board, it would undo what a person chose meanwhile."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest
from streamlit.testing.v1.element_tree import Widget

from dashboard.feed import Feed
from tests.builders import CLOSES, a_full_opening, an_exception
from tests.custody import a_plan_with_items
from tests.dashboard.a_board import a_feed
from tests.dashboard.test_closing_page import BALANCED, LEFT, MINUTE, NOW
from tests.dashboard.test_pages import a_page

FIELDS = ("text_input", "text_area", "selectbox", "radio", "checkbox", "multiselect", "number_input", "date_input")
PAGES: tuple[tuple[str, dict[str, str]], ...] = (
    ("county", {}),
    ("exceptions", {"case": "P014.fire"}),
    ("place", {"place": "P014"}),
    ("call", {}),
    ("closing", {}),
    ("lines", {}),
    ("messages", {}),
    ("review", {"part": "response"}),
    ("rovers", {}),
    ("set_aside", {}),
    ("set_up", {}),
)


@pytest.fixture
def feed(tmp_path: Path) -> Iterator[Feed]:
    """A place that has left with its material, and a fire there."""
    entries = [*a_full_opening(), *BALANCED, *LEFT, an_exception("fire", CLOSES + 2 * MINUTE)]
    with a_feed(tmp_path, entries, now=NOW, plan=a_plan_with_items()) as feed:
        yield feed


def fields(app: AppTest) -> list[Widget]:
    return [each for kind in FIELDS for each in app.get(kind) if isinstance(each, Widget)]


def set_again(app: AppTest) -> list[str]:
    """The fields whose value the board sends to the browser, and so puts in the place of what stands there."""
    return [str(each.key) for each in fields(app) if getattr(each.proto, "set_value", False)]


@pytest.mark.parametrize(("name", "chosen"), PAGES, ids=[name for name, _ in PAGES])
def test_a_redraw_sets_no_field_again(feed: Feed, name: str, chosen: dict[str, str]) -> None:
    app = a_page(name, **chosen)
    app.run()
    assert set_again(app) == []


@pytest.mark.parametrize(("name", "search"), [("closing", "receiving-search"), ("call", "call-search")])
def test_a_redraw_after_a_place_was_chosen_sets_no_field_again(feed: Feed, name: str, search: str) -> None:
    app = a_page(name)
    app.text_input(key=search).set_value("p14").run()
    assert len(fields(app)) > 5
    app.run()
    assert set_again(app) == []
