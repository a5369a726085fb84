"""Who is on the desk since when, and what the last person left to do: quiet, above the cases, until it is taken."""

import streamlit as st

from county import handing_over
from county.domain.desk_watch import HandedOver, OnTheDesk
from county.domain.roles import Deed
from county.errors import PollriseError
from dashboard import feed, who, words
from dashboard.board_now import Board
from dashboard.markup import tag, text

_SAID = "hand-over-said"


def show(board: Board) -> None:
    """One line about who is there; below it each note that nobody has taken over."""
    there, waiting = feed.current().desk.look()
    st.html(tag("p", text(on_the_desk(board, there)), cls="pr-note"))
    for note in waiting:
        _note(board, note)
    says = str(st.session_state.pop(_SAID, ""))
    if says:
        st.html(tag("p", text(says), cls="pr-said", role="status"))


def on_the_desk(board: Board, there: tuple[OnTheDesk, ...]) -> str:
    """Who is signed in at the desk, the longest there first."""
    if not there:
        return "Nobody is signed in at the desk."
    people = (f"{each.name} since {words.clock(each.since, board.zone)}" for each in there)
    return f"On the desk: {words.listed(people)}."


def _note(board: Board, note: HandedOver) -> None:
    with st.container(key=f"hand-over-{note.seq}", horizontal=True, vertical_alignment="center", gap="medium"):
        left_by = f"Handed over by {note.by}, {words.clock(note.at, board.zone)}. "
        st.html(tag("p", tag("b", text(left_by)), text(note.note), cls="pr-handed"))
        if who.may_do(Deed.HAND_OVER):
            st.button("I have taken it over", key=f"take-over-{note.seq}", on_click=_take, args=(note.seq,))


def _take(seq: int) -> None:
    try:
        handing_over.take_over(feed.current().office, who.name(), seq)
    except PollriseError as error:
        st.session_state[_SAID] = words.sentence(str(error))
    feed.current().desk.look(at_once=True)
