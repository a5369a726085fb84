"""Every page of the board with every role: who is shown it, who is told that it is not theirs, and what is offered."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from unittest.mock import patch

import pytest
import streamlit as st
from streamlit.testing.v1 import AppTest

from county import handing_over, staffing
from county.domain.archive_mark import ArchiveMark
from county.domain.people import Role
from county.domain.roles import MAY, SEES, Deed, Page
from dashboard import who
from dashboard.feed import Feed
from tests.builders import a_full_opening, after, an_exception
from tests.dashboard.a_board import a_feed
from tests.dashboard.signed_in import an_account, looked_at_by
from tests.dashboard.test_pages import DASHBOARD, a_page, press, said, words

EVERYBODY, OFFICE, DESK, LEAD = "desk lead rover viewer", "desk lead viewer", "desk lead", "lead"
# who is shown which page; a page of the board without a line here makes the test fail
SHOWN: dict[str, str] = {
    "county": OFFICE,
    "exceptions": OFFICE,
    "place": OFFICE,
    "call": DESK,
    "set-aside": OFFICE,
    "rovers": EVERYBODY,
    "messages": OFFICE,
    "lines": OFFICE,
    "closing": OFFICE,
    "set-up": LEAD,
    "review": OFFICE,
}
# who may do what at the board
DONE: dict[Deed, str] = {
    Deed.SEE_TO_CASES: DESK,
    Deed.JUDGE_CASES: LEAD,
    Deed.REPORT: DESK,
    Deed.SETTLE: DESK,
    Deed.HAND_OVER: DESK,
    Deed.TELL_EVERYBODY: DESK,
    Deed.SET_UP: LEAD,
    Deed.STAFF: LEAD,
    Deed.EXPORT: OFFICE,
}


@pytest.fixture
def feed(tmp_path: Path) -> Iterator[Feed]:
    """A county with one place open and a fire reported there."""
    with a_feed(tmp_path, [*a_full_opening(), an_exception("fire", after(2))], now=after(9)) as feed:
        yield feed


def test_nothing_can_be_written_on_the_board_of_an_archive(tmp_path: Path) -> None:
    """Not by a lead either: no page that is there to write, no deed but to hand out the record, no field to fill in."""
    with a_feed(tmp_path, [*a_full_opening(), an_exception("fire", after(2))], now=after(9)) as archived:
        archived.office = replace(archived.office, archive=ArchiveMark("General Election", after(9), "0" * 64))
        archived.refresh()
        shown, _ = offered(Role.LEAD, archived)
        assert [page for page, there in shown.items() if not there] == ["call", "set-up"]
        assert [deed for deed in Deed if who.may_do(deed)] == [Deed.EXPORT]
        app = a_page("exceptions")
        assert ([each.label for each in app.button], len(app.text_input), len(app.selectbox)) == ([], 0, 0)
        assert "it is only read" in said(app)


def offered(role: Role, feed: Feed) -> tuple[dict[str, bool], str]:
    """The pages that the board offers to a person of this role, each shown or told to be not theirs; and the first."""
    found: list[st.Page] = []
    whole = st.navigation

    def keep(pages: list[st.Page], **more: object) -> object:
        found.extend(pages)
        return whole(pages, **more)  # type: ignore[arg-type]

    with looked_at_by(feed.office, f"{role.value.title()} Person", role), patch.object(st, "navigation", keep):
        app = AppTest.from_file(str(DASHBOARD / "board.py"), default_timeout=30).run()
        assert not app.exception
    # the first page's address is empty, so pages are told apart by their names
    pages = {_address(page.title): page.visibility == "visible" for page in found}
    first = next(page.title for page in found if page._default)
    return pages, str(first)


def _address(title: str) -> str:
    return {"Take a call": "call", "Lines and ballots": "lines"}.get(title, title.lower().replace(" ", "-"))


@pytest.mark.parametrize("role", Role)
def test_each_page_is_offered_to_those_whom_it_is_for(feed: Feed, role: Role) -> None:
    pages, first = offered(role, feed)
    assert set(pages) <= set(SHOWN), "a page without a line in the table"
    for page, shown in pages.items():
        assert shown is (role.value in SHOWN[page].split()), page
    assert first == ("Rovers" if role is Role.ROVER else "County")


def test_the_tables_say_what_is_written_here() -> None:
    assert {page.value: {role.value for role in roles} for page, roles in SEES.items()} == {
        page: set(roles.split()) for page, roles in SHOWN.items()
    }
    assert {deed: {role.value for role in roles} for deed, roles in MAY.items()} == {
        deed: set(roles.split()) for deed, roles in DONE.items()
    }
    assert set(SEES) == set(Page)
    assert set(MAY) == set(Deed)


def test_every_page_has_a_row(feed: Feed) -> None:
    pages, _ = offered(Role.LEAD, feed)
    files = {path.stem.replace("_", "-") for path in (DASHBOARD / "pages_").glob("*.py")}
    assert files == set(pages)


def test_a_page_that_is_not_for_a_role_says_whom_it_is_for(feed: Feed) -> None:
    def not_theirs() -> None:
        from county.domain.roles import Page as ThePage
        from dashboard.not_for_you import instead_of

        instead_of(ThePage.SET_UP, "Set-up")()

    with looked_at_by(feed.office, "Vi Moss", Role.VIEWER):
        app = AppTest.from_function(not_theirs, default_timeout=30).run()
    assert words(app) == "Set-up is not for your role."
    assert "Vi Moss is here as viewer; this page is for lead." in said(app)
    assert "This board does not call 911." in said(app)


def test_a_viewer_sees_a_case_and_is_offered_nothing_to_do(feed: Feed) -> None:
    with looked_at_by(feed.office, "Vi Moss", Role.VIEWER):
        app = a_page("exceptions")
        assert not app.button
        assert not app.text_input
        assert "Vi Moss is here as viewer and may not see to cases." in said(app)


def test_only_a_lead_is_offered_to_withdraw_a_case(feed: Feed) -> None:
    with looked_at_by(feed.office, "Di Ruiz", Role.DESK):
        assert "Withdraw" not in [button.label for button in a_page("exceptions").button]
    assert "Withdraw" in [button.label for button in a_page("exceptions").button]


def test_whoever_is_revoked_sees_nothing_more_at_the_next_run(feed: Feed) -> None:
    with looked_at_by(feed.office, "Di Ruiz", Role.DESK):
        app = a_page("exceptions")
        assert app.button
        staffing.end_account(feed.office, "Di Ruiz")
        feed.people.forget(who.session_mark())
        app.run()
    assert not app.button
    assert "You are signed out of this board." in said(app)
    assert "Mill Creek" not in said(app)


def test_a_note_of_the_last_shift_stands_above_the_cases_until_it_is_taken(feed: Feed) -> None:
    an_account(feed.office, "Cy Day", Role.DESK)
    handing_over.leave(feed.office, "Cy Day", "Call Mill Creek back\nat 14:30 <b>")
    feed.desk.look(at_once=True)
    app = a_page("exceptions")
    assert "On the desk: Ann Lee since 06:09." in said(app)
    assert "Handed over by Cy Day, 06:09. " in said(app)
    assert "at 14:30 &lt;b&gt;" in said(app)
    press(app, "I have taken it over")
    assert "Handed over by" not in said(app)
    assert "Handed over by" not in said(a_page("exceptions"))


def test_a_note_is_taken_over_once(feed: Feed) -> None:
    an_account(feed.office, "Cy Day", Role.DESK)
    handing_over.leave(feed.office, "Cy Day", "Call Mill Creek back")
    feed.desk.look(at_once=True)
    one = a_page("exceptions")
    seq = feed.desk.look(at_once=True)[1][0].seq
    handing_over.take_over(feed.office, "Cy Day", seq)
    press(one, "I have taken it over")
    assert "Somebody else has taken it over already." in said(one)
