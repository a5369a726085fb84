"""Is the morning going well, and where not?"""

import streamlit as st

from dashboard import (
    case_rows,
    charts,
    county_sentence,
    curves,
    foreseen,
    going,
    layout,
    places_drawn,
    sentences,
    shown,
    tables,
    then,
)
from dashboard.board_now import Board
from dashboard.feed import once

WALL_ROWS = 8


def county(board: Board) -> None:
    """The county at a glance."""
    layout.heading(board, once(county_sentence.county, board))
    if not board.places:
        layout.empty("The roster is empty.", "Load it with: python -m county roster load FILE...")
        return
    left, right = st.columns([2.05, 1], gap="medium")
    with left:
        morning(board)
        below, beside = st.columns([1.15, 1], gap="medium")
        with below:
            where(board)
        with beside:
            not_heard_from(board)
    with right:
        needs_a_person(board)
        steps(board)
    as_a_table(board)


def morning(board: Board) -> None:
    """The chart, and the same as a list where there is no room for a chart."""
    layout.section("Morning", foreseen.legend(board))
    with st.container(key="morning"):
        st.vega_lite_chart(once(charts.morning, board), key="morning-chart", alt="The morning, place by place.")
    with st.container(key="morning-list"):
        shown.rows(once(tables.look_rows, board), key="looks", label="Places", kind="looks", chosen=going.to_place)
    layout.note(once(tables.folded, board))
    layout.note(foreseen.none_as_it_happened(board))


def where(board: Board) -> None:
    """The map, its shapes explained, and the places it cannot show."""
    layout.section("Where", legend=once(places_drawn.legend, board))
    shown.map_of_places(once(places_drawn.map_of_places, board), key="map", high=250, chosen=going.to_place)
    layout.note(once(places_drawn.not_on_the_map, board))


def needs_a_person(board: Board) -> None:
    """The worst open cases; the page of exceptions has them all."""
    layout.section("Needs a person", once(sentences.cases, board))
    shown.rows(
        once(case_rows.worst_cases, board), key="worst", label="Worst open cases", kind="few", chosen=going.to_case
    )


def steps(board: Board) -> None:
    """How far the county is, step by step, with an earlier election behind it."""
    layout.section("Steps", "share of places done, by the clock")
    shown.step_curves(once(curves.step_curves, board), key="steps")
    layout.note(once(curves.explained, board))


def not_heard_from(board: Board) -> None:
    """Who should have been heard from and was not: unknown is never shown as good."""
    silent = once(tables.unheard, board)
    layout.section("Not heard from", once(sentences.silent, board))
    if silent:
        shown.rows(silent, key="silent", label="Places not heard from", kind="silent", chosen=going.to_place)


def as_a_table(board: Board) -> None:
    """The map and the chart in words, for a keyboard and a screen reader."""
    table = st.expander("Every place as a table", on_change="rerun", key="as-a-table")
    if table.open:
        table.dataframe(once(tables.places_frame, board), hide_index=True, key="places-table", height=420)


def on_the_wall(board: Board) -> None:
    """The same answer for a screen that a whole room reads and nobody touches."""
    with st.container(key="wall"):
        layout.heading_on_the_wall(board, once(county_sentence.county, board))
        if board.places:
            st.vega_lite_chart(once(charts.morning, board, WALL_ROWS, large=True), key="wall-chart", alt="The morning.")
            layout.section("", legend=once(places_drawn.legend, board))
            layout.note(once(tables.folded, board, WALL_ROWS))


layout.live(on_the_wall if st.query_params.get("wall") == "1" else county, then.as_asked)
