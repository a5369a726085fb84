"""Who is where, who is free?"""

import streamlit as st

from dashboard import going, layout, shown
from dashboard.board_now import Board
from dashboard.feed import once
from dashboard.rovers import listed, mapped, paper, said
from dashboard.rovers.road import OnTheRoad, on_the_road


def rovers(board: Board) -> None:
    """What each rover does and does next, and the cases that want somebody."""
    everyone = once(on_the_road, board)
    layout.heading(board, said.sentence(board, everyone))
    if not everyone:
        layout.empty("Nobody can be sent.", "Load the rovers with: python -m county roster load rovers.csv")
        return
    left, right = st.columns([1.25, 1], gap="medium")
    with left:
        layout.section("Rovers", "who can be sent first; a suggestion is only that until the desk assigns it")
        st.html(listed.rover_list(board, everyone) + paper.link())
    with right:
        where(board, everyone)
        want_somebody(board)


def where(board: Board, everyone: tuple[OnTheRoad, ...]) -> None:
    """The map: rovers where they were last known to be, places with open cases, and the ways between."""
    layout.section("Where", legend=said.legend(everyone))
    shown.map_of_places(
        mapped.map_of_rovers(board, everyone),
        key="rovers-map",
        high=330,
        chosen=lambda name: chosen_on_map(board, name),
    )
    layout.note(
        "A line is the way a rover is on; broken, one it is assigned; dotted, one that is suggested. "
        "Rovers stand where they were last known to be."
    )
    layout.note(mapped.not_on_the_map(everyone))


def want_somebody(board: Board) -> None:
    """Open cases without a rover, each with the suggestion and why, or why nobody can go."""
    rows = listed.wanting_rows(board)
    layout.section("Want somebody", "worst first; choose one to assign it" if rows else "no open case")
    if rows:
        shown.rows(rows, key="wanting", label="Cases that want somebody", kind="few", chosen=going.to_case)
    layout.note(listed.not_shown(board))


def chosen_on_map(board: Board, name: str) -> None:
    """A place leads to its page; a rover has none."""
    if name in board.place_by_id:
        going.to_place(name)


layout.live(rovers)
