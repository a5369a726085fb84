"""What came in and could not be kept?"""

import streamlit as st

from county.domain.roles import Deed
from dashboard import feed, layout, sentences, set_aside_form, set_aside_list, who
from dashboard.board_now import Board
from dashboard.markup import tag, text


def set_aside(board: Board) -> None:
    """Refused and conflicting reports, open ones first, each with its reason; one is put right beside."""
    newest = feed.current().set_aside(set_aside_list.NEWEST)
    settled = feed.current().settled(newest)
    open_ones = feed.current().waiting(set_aside_list.NEWEST + 1)
    waiting = open_ones[: set_aside_list.NEWEST]
    if newest and not open_ones:
        layout.heading(board, set_aside_list.ALL_SETTLED)
    else:
        layout.heading(board, sentences.set_aside(len(open_ones), set_aside_list.NEWEST))
    if not newest:
        return
    left, right = st.columns([1.3, 1], gap="medium")
    with left:
        layout.section("Open", "" if waiting else "none")
        if waiting:
            st.html(set_aside_list.listed(board, waiting))
    with right:
        layout.section("Put one right")
        if set_aside_form.says():
            st.html(tag("p", text(set_aside_form.says()), cls="pr-said", role="status"))
        if not who.may_do(Deed.SETTLE):
            who.only_looks(Deed.SETTLE)
        elif waiting:
            by_number = {item.number: item for item in waiting}
            number = st.selectbox(
                "Which item?",
                list(by_number),
                format_func=lambda number: set_aside_form.in_brief(by_number.get(number, waiting[0])),
                key="aside-chosen",
            )
            set_aside_form.form(by_number.get(number, waiting[0]))
            who.written_under()
    done = [item for item in newest if item.number in settled]
    if done:
        with st.expander(f"Settled: {len(done):,}", key="aside-settled"):
            st.html(set_aside_list.listed(board, done, settled))


layout.live(set_aside)
