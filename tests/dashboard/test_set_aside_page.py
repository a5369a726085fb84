"""What was set aside is put right and taken in, or dismissed, once, and stays readable with what became of it."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from county import desk
from county.domain.receipts import SetAside
from county.domain.settling import fields_of
from county.errors import Problem
from dashboard.feed import Feed
from tests.builders import OPENS, a_count, a_full_opening, after
from tests.dashboard.a_board import a_feed
from tests.dashboard.test_pages import a_page, press, said, words

ITEM = SetAside(
    "k-1",
    "place:P014",
    "endpoint",
    OPENS,
    "refused",
    (Problem("chekins", "no such field"),),
    '{"key": "k-1", "place": "P014", "kind": "count", "chekins": 412}',
)


@pytest.fixture
def feed(tmp_path: Path) -> Iterator[Feed]:
    """One place open, one report set aside."""
    with a_feed(tmp_path, a_full_opening(), now=after(20)) as feed:
        desk.keep(feed.office, [ITEM])
        yield feed


def put_right(app: AppTest) -> AppTest:
    """The misspelt field emptied, and the right one added."""
    app.text_input(key="aside-1-chekins").set_value("")
    app.selectbox(key="aside-1-+name").set_value("check_ins")
    app.text_input(key="aside-1-+value").set_value("412")
    return app


def test_a_report_put_right_is_taken_in_and_the_item_is_settled(feed: Feed) -> None:
    app = press(put_right(a_page("set_aside")), "Take it in")
    assert "Item 1 is taken in: number" in said(app)
    assert "Taken " in said(app)
    told, outcome = desk.ledger_pages(feed.office)[-2:]
    assert (told["key"], told["check_ins"], told["by"], told["happened_at"]) == (
        "k-1",
        412,
        "Ann Lee",
        "2026-11-03T12:00:00Z",
    )
    assert (outcome["kind"], outcome["item"], outcome["outcome"], outcome["took"]) == (
        "set-aside-outcome",
        1,
        "taken",
        "k-1",
    )
    assert not [each for each in app.button if each.label == "Take it in"]
    assert words(app) == "Everything that was set aside has been settled."


def test_what_is_still_wrong_is_said_by_field_and_nothing_is_lost(feed: Feed) -> None:
    app = a_page("set_aside")
    before = desk.last_seq(feed.office)
    app.text_input(key="aside-1-happened_at").set_value("six")
    press(app, "Take it in")
    assert "chekins</b> no such field" in said(app)
    assert app.text_input(key="aside-1-happened_at").value == "six"
    assert desk.last_seq(feed.office) == before


def test_it_is_dismissed_only_with_a_reason(feed: Feed) -> None:
    app = press(a_page("set_aside"), "Dismiss")
    assert "is needed: say why" in said(app)
    app.text_input(key="aside-1-reason").set_value("Sent twice by mistake")
    press(app, "Dismiss")
    (outcome,) = desk.ledger_pages(feed.office)[-1:]
    assert (outcome["outcome"], outcome["reason"], outcome["by"]) == ("dismissed", "Sent twice by mistake", "Ann Lee")
    assert "Dismissed 06:20 by Ann Lee, Sent twice by mistake." in said(app)


def test_two_desks_settle_an_item_once(feed: Feed) -> None:
    one = put_right(a_page("set_aside"))
    other = a_page("set_aside")
    other.text_input(key="aside-1-reason").set_value("Not ours")
    press(other, "Dismiss")
    before = desk.last_seq(feed.office)
    press(one, "Take it in")
    assert desk.last_seq(feed.office) == before


def test_a_conflict_gets_a_new_key_and_what_is_no_report_becomes_a_note() -> None:
    assert fields_of(replace(ITEM, reason="conflict", number=7))["key"] == "aside-7"
    note = fields_of(replace(ITEM, raw="P014 opne", number=8))
    assert note == {
        "place": "P014",
        "kind": "note",
        "note": "P014 opne",
        "key": "aside-8",
        "happened_at": "2026-11-03T12:00:00Z",
    }


def test_a_conflict_is_taken_in_beside_the_one_that_stands(feed: Feed) -> None:
    first = a_count(after(15), key="c-1", check_ins=10)
    second = a_count(after(15), key="c-1", check_ins=20)
    desk.keep(feed.office, [first, second])
    app = a_page("set_aside")
    assert "aside-2, a new key" in said(app)
    press(app, "Take it in")
    assert desk.ledger_pages(feed.office)[-2]["key"] == "aside-2"


def test_an_open_one_is_shown_however_many_settled_ones_are_newer(feed: Feed) -> None:
    newer = [replace(ITEM, raw=f"P014 opne {number}") for number in range(120)]
    desk.keep(feed.office, newer)
    for item in feed.set_aside(120):
        feed.settle(item, "Ann Lee", reason="A text line gone wrong")
    app = a_page("set_aside")
    assert words(app) == "1 report could not be kept as sent and is set aside."
    assert app.selectbox(key="aside-chosen").options == ["1: count, P014"]
