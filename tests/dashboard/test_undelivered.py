"""Notices given up for good: whom nobody told, of what and why, on the page of exceptions."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from county import desk
from county.domain.messages import Message, Waiting
from county.domain.people import Role
from county.store import outbox
from county.store.engine import writing
from dashboard import case_panel
from dashboard.feed import Feed
from tests.builders import a_full_opening, after, an_action, an_exception
from tests.dashboard.a_board import a_board, a_feed, at
from tests.dashboard.signed_in import looked_at_by
from tests.dashboard.test_pages import a_page, said
from tests.told import a_notice_fact

NAME = "P014.scanner-jam.SC-0141"
JAM = an_exception("scanner-jam", after(60), device="SC-0141")


@pytest.fixture
def feed(tmp_path: Path) -> Iterator[Feed]:
    with a_feed(tmp_path, [*a_full_opening(), JAM], now=after(70)) as feed:
        yield feed


def given_up(feed: Feed, *people: str) -> None:
    """One notice of the jam to each of these people, given up for good."""
    for number, person in enumerate(people, 1):
        waiting = Waiting(
            notice=f"n{number}", number=number, case=NAME, place="P014", person=person, role="lead", channel="e-mail",
            kind="scanner-jam", danger=False, due_at=after(61), owed_at=after(61), title="t", body="b", line="l",
        )  # fmt: skip
        with writing(feed.office.engine) as connection:
            outbox.put(connection, [waiting])
            outbox.make(
                connection, Message(f"m{number}", number, person, "scanner-jam", "t", "b"), [waiting.notice], after(61)
            )
            outbox.end(connection, f"m{number}", outbox.FAILED, after(65), "connection refused.")


def test_it_says_who_was_not_told_of_what_by_which_way_and_why(feed: Feed) -> None:
    assert "Notices that did not arrive" not in said(a_page("exceptions"))
    given_up(feed, "Ada Rill")
    at(feed, after(71))
    shown = said(a_page("exceptions"))
    assert "Notices that did not arrive" in shown
    assert (
        "<b>Ada Rill, lead</b> was not told of scanner jam, SC-0141 at Mill Creek School, raised 07:00: e-mail "
        '<span class="pr-quiet">(connection refused; owed 07:01)</span>' in shown
    )


def test_of_many_the_latest_are_shown_and_the_others_counted(feed: Feed) -> None:
    given_up(feed, "A", "B", "C", "D", "E")
    at(feed, after(71))
    assert "And 2 more notices." in said(a_page("exceptions"))


def test_of_a_case_that_is_over_nobody_needs_to_be_told_any_more(feed: Feed) -> None:
    given_up(feed, "Ada Rill")
    desk.keep(feed.office, [an_action(NAME, "clear", after(70), note="done")])
    at(feed, after(71))
    assert "Notices that did not arrive" not in said(a_page("exceptions"))


def test_who_only_looks_is_not_shown_why_a_channel_failed(feed: Feed) -> None:
    given_up(feed, "Ada Rill")
    at(feed, after(71))
    with looked_at_by(feed.office, "Vi Ewer", Role.VIEWER):
        assert "connection refused" not in said(a_page("exceptions"))


def test_in_the_case_it_is_said_who_was_told_and_for_whom_nobody_was_there() -> None:
    jam = an_exception("scanner-jam", after(60))
    case = "P014.scanner-jam"
    facts = [
        a_notice_fact("owed", "n1", after(60), role="lead", person="Ada Rill", channel="e-mail", case=case),
        a_notice_fact("arrived", "n1", after(61), case=case),
        a_notice_fact("nobody", "n2", after(62), role="counsel", case=case),
    ]
    board = a_board(jam, *facts, now=after(70))
    drawn = case_panel.record(board, board.case_by_id[case])
    assert "<b>Who was told</b>" in drawn
    assert "<li>Lead (Ada Rill) by e-mail 07:01, arrived</li><li>Nobody on shift for counsel 07:02</li>" in drawn
    assert "Told: " not in drawn
