"""What came in and could not be kept?"""

import streamlit as st

from dashboard import feed, layout, sentences, set_aside_list
from dashboard.board_now import Board


def set_aside(board: Board) -> None:
    """Refused and conflicting reports, the newest first, each with its reason; nothing is changed here."""
    items = feed.current().set_aside(set_aside_list.NEWEST + 1)
    layout.heading(board, sentences.set_aside(len(items), set_aside_list.NEWEST))
    if items:
        st.html(set_aside_list.listed(board, items[: set_aside_list.NEWEST]))


layout.live(set_aside)
