"""What stands where a page is not for a person's role: said plainly, with whom to ask, and the ways that are open."""

from collections.abc import Callable

import streamlit as st

from county.domain.roles import SEES, Deed, Page
from dashboard import layout, who, words
from dashboard.board_now import Board
from dashboard.markup import tag, text


def instead_of(page: Page, title: str) -> Callable[[], None]:
    """The page that stands in another one's place."""

    def not_for_you() -> None:
        layout.live(lambda board: _say(board, page, title))

    return not_for_you


def _say(board: Board, page: Page, title: str) -> None:
    here = who.person()
    if who.in_an_archive():
        layout.heading(board, f"{title} is for an election that goes on.")
        who.only_looks(Deed.REPORT)
        return
    layout.heading(board, f"{title} is not for your role.")
    roles = words.listed((role.value for role in SEES[page]), "and")
    st.html(
        tag(
            "p",
            text(f"{here.name} is here as {here.role}; this page is for {roles}. "),
            tag("span", text("The desk lead can change a role, and it holds at once."), cls="pr-quiet"),
            cls="pr-wait",
        )
    )
