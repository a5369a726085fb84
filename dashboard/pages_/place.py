"""What is happening at this one?"""

import streamlit as st

from dashboard import (
    case_rows,
    county_sentence,
    entry_words,
    feed,
    foreseen,
    going,
    layout,
    place_day_chart,
    place_panel,
    sentences,
    shown,
    then,
)
from dashboard.board_now import Board
from dashboard.feed import once
from dashboard.markup import tag, text
from dashboard.place_panel import NEWEST


def place(board: Board) -> None:
    """One place: how it is, its day, what is open there, and everything reported."""
    chosen = going.chosen_place(board)
    if not chosen:
        layout.heading(board, county_sentence.county(board))
        layout.empty("The roster is empty.", "Load it with: python -m county roster load FILE...")
        return
    now = board.place_by_id[chosen]
    layout.heading(board, sentences.place(board, now))
    left, right = st.columns([2.05, 1], gap="medium")
    with left:
        with st.container():
            says = foreseen.sentence(board, now)
            if says:
                st.html(tag("p", text(says), cls="pr-foreseen"))
        layout.section("Its day", foreseen.day_legend(board, now))
        layout.sideways()
        with st.container(key="day"):
            st.vega_lite_chart(
                once(place_day_chart.place_day, board, chosen), key="day-chart", alt=f"The day of {now.place.name}."
            )
        layout.section("Everything reported", sentences.newest(len(now.day.told), NEWEST))
        st.html(place_panel.entries(board, now))
        layout.note(entry_words.other_days(now.day.told, board))
    with right:
        cases(board, chosen)
        layout.section("Where and when")
        st.html(place_panel.contact(board, now))
        layout.section("Devices and seals")
        st.html(place_panel.devices(board, now))


def cases(board: Board, chosen: str) -> None:
    """What is open here; each leads to the page of exceptions."""
    open_cases = board.place_by_id[chosen].open_cases
    layout.section("Open cases", "" if open_cases else "none")
    if open_cases:
        shown.rows(
            case_rows.cases_here(board, open_cases),
            key="here",
            label="Open cases here",
            kind="few",
            chosen=going.to_case,
        )


def choose() -> None:
    """The chooser stands outside what is redrawn, so that a list of thousands is sent once."""
    board = feed.newest()
    if board and board.places:
        going.place_chooser(board)


choose()
layout.live(place, then.as_asked)
