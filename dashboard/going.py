"""The way from one page to another, with what was chosen carried along in the address."""

from pathlib import Path

import streamlit as st

from dashboard.board_now import Board
from dashboard.feed import once
from dashboard.looks import looks
from dashboard.tables import place_names

PAGES = Path(__file__).parent / "pages_"


def to_place(place: str) -> None:
    """Turn to one place's page."""
    _turn("place.py", place=place)


def to_case(case: str) -> None:
    """Turn to one case on the page of exceptions."""
    _turn("exceptions.py", case=case)


def chosen_case(board: Board) -> str:
    """The case a person chose, by its id; at first the worst, and that one stays until they choose another.

    It may be one that the board does not hold, or not yet: another must not be taken for it.
    """
    wanted = st.query_params.get("case", "")
    if not wanted:
        wanted = (board.cases or board.every_case)[0].case
        choose_case(wanted)
    return wanted


def choose_case(case: str) -> None:
    """Keep the chosen case in the address, so that it outlives a reload."""
    st.query_params["case"] = case


def chosen_place(board: Board) -> str:
    """The place a person chose, by its id or a precinct's; at first the one that most needs a look."""
    found = board.roster.place_of(st.query_params.get("place", ""))
    if found is None or found.place not in board.place_by_id:
        worst = once(looks, board)
        if not worst:
            return ""
        found = worst[0].now.place
        st.query_params["place"] = found.place
    return found.place


def choose_place_from(key: str) -> None:
    """Take the place chosen in the widget with this key."""
    st.query_params["place"] = st.session_state[key]


def to_review(place: str) -> None:
    """Turn to one place's record on the page of review."""
    _turn("review.py", part="place", place=place)


def place_chooser(board: Board) -> None:
    """Where a person chooses a place; it is kept in the address."""
    names, chosen = once(place_names, board), chosen_place(board)
    st.selectbox(
        "Place",
        list(names),
        index=list(names).index(chosen),
        format_func=lambda place: names.get(place, place),
        key=f"chosen-{chosen}",
        on_change=choose_place_from,
        args=(f"chosen-{chosen}",),
        width=460,
        label_visibility="collapsed",
    )


def _turn(page: str, **chosen: str) -> None:
    """Turn to a page; whoever looks at a past moment goes on looking at it, but the review has a moment of its own."""
    kept = {name: st.query_params[name] for name in ("at", "view") if name in st.query_params and page != "review.py"}
    st.switch_page(PAGES / page, query_params={**kept, **chosen})
