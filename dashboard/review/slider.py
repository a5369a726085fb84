"""The slider over the day on the page: the moment it stands at, and the county replayed at that moment."""

from datetime import datetime

import streamlit as st

from dashboard import feed, then
from dashboard.board_now import Board
from dashboard.elements import element
from dashboard.feed import once
from dashboard.review import day
from dashboard.review.moment import Moment

KEY = "replay"
_slider = element("time_slider")


def moment_at(board: Board) -> Moment:
    """The moment at which the slider stands, replayed; at first what the address asks for, else where it tells most."""
    replaying = feed.current().replaying
    begins, until = once(day.ends, board)
    at = day.from_seconds(getattr(st.session_state.get(KEY), "at", None)) or _first(board)
    at = min(max(at, begins), until)
    return Moment(at, replaying.everywhere(at))


def show(board: Board, moment: Moment) -> None:
    """The slider; when it is moved or plays, the page is drawn again for its moment."""
    _slider(
        key=KEY,
        data=day.slider(board, moment.at, str(st.query_params.get("at", ""))),
        on_at_change=lambda: None,
    )


def _first(board: Board) -> datetime:
    asked = then.asked()
    if asked:
        return asked.at
    if "replay-first" not in st.session_state:
        st.session_state["replay-first"] = once(day.furthest_behind, board)
    first: datetime = st.session_state["replay-first"]
    return first
