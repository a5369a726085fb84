"""Who is not closed, balanced, back?"""

import streamlit as st

from dashboard import closing_chart, closing_now, closing_tables, going, layout, receiving_panel, shown, then
from dashboard.board_now import Board
from dashboard.feed import once


def closing(board: Board) -> None:
    """The sentence; who is not closed, what is still out; taking in, what came back otherwise; the ballots."""
    layout.heading(board, once(closing_now.sentence, board))
    if not board.places:
        layout.empty("The roster is empty.", "Load it with: python -m county roster load FILE...")
        return
    if not once(closing_now.begun, board):
        layout.empty("No place has closed yet.", "From the first closing time on, closing stands here place by place.")
        return
    left, right = st.columns([1.25, 1], gap="medium")
    with left:
        not_closed(board)
        still_out(board)
    with right:
        receiving_panel.take_in(board)
        otherwise(board)
    ballots(board)


def not_closed(board: Board) -> None:
    """The chart, and the same as a list where there is no room for a chart."""
    layout.section("Closing", "a dot is a step done, a ring a step overdue; what needs a look, worst first")
    with st.container(key="closing-chart"):
        chart = once(closing_chart.closing_chart, board)
        st.vega_lite_chart(chart, key="closing-drawn", alt="The closing, place by place.")
    with st.container(key="closing-list"):
        shown.rows(once(closing_chart.rows, board), key="closings", label="Places", kind="looks", chosen=going.to_place)
    layout.note(once(closing_chart.folded, board))


def ballots(board: Board) -> None:
    """Net and absolute for the county, what does not balance with its reason, and every place on demand."""
    layout.section("Ballots", once(closing_tables.balance_says, board))
    off = once(closing_tables.off, board)
    if off:
        st.html(closing_tables.balance_table(board, off))
    every = st.expander("The ballots of every place", on_change="rerun", key="every-balance")
    if every.open:
        with every:
            st.html(closing_tables.balance_table(board, once(closing_tables.in_order, board)))
    layout.note(closing_tables.EXPLAINED)


def otherwise(board: Board) -> None:
    """What is missing, differs, or was not looked at."""
    found = once(closing_tables.otherwise_rows, board)
    layout.section("Missing or in doubt", "" if found else "nothing so far, of what was taken in")
    if found:
        shown.rows(found, key="otherwise", label="Missing or in doubt", kind="few", chosen=going.to_place)
    layout.note(once(closing_tables.devices_unchecked, board))


def still_out(board: Board) -> None:
    """Closed and not back, the longest on the way first."""
    out = once(closing_tables.out, board)
    layout.section("Still out", "longest on the way first; the cut-off at the right" if out else "nothing is out")
    if out:
        rows = once(closing_tables.out_rows, board)
        shown.rows(rows, key="still-out", label="Still out", kind="few", chosen=going.to_place)
        if len(out) > len(rows):
            layout.note(f"The first {len(rows)} are shown, of {len(out):,} places still out.")


layout.live(closing, then.as_asked)
