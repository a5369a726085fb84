"""Whoever types is not put out of the field by what comes in: each field stays where it is in the page's order."""

from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest
from streamlit.testing.v1.element_tree import Block, Element, Node, Widget

from county import desk
from dashboard.feed import Feed
from tests.builders import a_full_opening, after, an_exception
from tests.dashboard.a_board import a_feed, at
from tests.dashboard.test_pages import a_page, said
from tests.dashboard.test_set_aside_page import ITEM

PAGES = ("call", "exceptions", "messages", "set_aside")
DANGER = 'class="pr-911" role="alert"'


@pytest.fixture
def feed(tmp_path: Path) -> Iterator[Feed]:
    """A county with one scanner jam, nobody in danger, and something set aside."""
    with a_feed(tmp_path, [*a_full_opening(), an_exception("scanner-jam", after(2))], now=after(9)) as feed:
        desk.keep(feed.office, [ITEM])
        at(feed, after(9))
        yield feed


def where_fields_are(app: AppTest) -> Mapping[str, tuple[int, ...]]:
    """Each field and button by its id, with its place in the page's order: the browser knows it by that."""
    return dict(_below(app.main, ()))


def _below(node: Node, path: tuple[int, ...]) -> Iterator[tuple[str, tuple[int, ...]]]:
    if isinstance(node, Widget):
        yield node.id, path
    if isinstance(node, Block) and not isinstance(node, Element):
        for index, child in node.children.items():
            yield from _below(child, (*path, index))


@pytest.mark.parametrize("page", PAGES)
def test_each_field_stays_where_it_is_when_the_first_danger_is_reported(feed: Feed, page: str) -> None:
    app = a_page(page)
    before = where_fields_are(app)
    assert before, "this page has no field"
    assert DANGER not in said(app)
    desk.keep(feed.office, [an_exception("fire", after(9), place="P015")])
    at(feed, after(10))
    app.run()
    assert DANGER in said(app)
    now = where_fields_are(app)
    assert {name: now.get(name) for name in before} == before
