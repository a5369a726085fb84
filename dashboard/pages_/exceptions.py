"""What needs a person now?"""

import streamlit as st

from county.domain.cases import Case
from county.domain.roles import Deed
from dashboard import (
    case_actions,
    case_panel,
    case_rows,
    going,
    hand_over,
    layout,
    pattern_words,
    sentences,
    shown,
    then,
    undelivered,
    waits,
    who,
)
from dashboard.board_now import Board
from dashboard.feed import once


def exceptions(board: Board) -> None:
    """Open cases, worst first, and one of them beside."""
    layout.heading(board, once(sentences.exceptions, board))
    # a container for each part that comes and goes: what is below stays where it is in the page's order
    with st.container():
        if board.then is None:
            hand_over.show(board)
    if not board.every_case:
        layout.empty("Nothing has been raised.", "Places not heard from are counted on the County page.")
        return
    chosen = going.chosen_case(board)
    left, right = st.columns([1.3, 1], gap="medium")
    with left:
        with st.container():
            the_undelivered(board)
        the_open(board, chosen)
        the_ended(board, chosen)
        how_soon(board, "how-soon-below")
    with right:
        with st.container(border=True, key="case"):
            the_chosen(board, board.case_by_id.get(chosen))
        how_soon(board, "how-soon")


def the_open(board: Board, chosen: str) -> None:
    """Open cases with the response clock."""
    layout.section("Open, worst first", "bar: time since raised; the stroke on it is the county's target")
    if board.cases:
        shown.rows(
            case_rows.open_cases(board, chosen), key="open", label="Open cases", kind="cases", chosen=going.choose_case
        )
    layout.note(sentences.not_shown(board, case_rows.SHOWN_OPEN))


def the_undelivered(board: Board) -> None:
    """Who could not be told, for the desk to tell by telephone."""
    if board.then is None and who.may_do(Deed.SEE_TO_CASES):
        lines = once(undelivered.lines, board)
        if lines:
            layout.section("Notices that did not arrive", "tell them by telephone")
            st.html(undelivered.drawn(lines))


def how_soon(board: Board, key: str) -> None:
    """How soon cases were acknowledged and reached, against the county's targets."""
    panels = once(waits.panels, board)
    if panels:
        with st.container(key=key):
            layout.section("How soon", "share of cases still waiting, by minutes since raised; upright: the target")
            shown.waits(panels, key=f"{key}-curves")


def the_ended(board: Board, chosen: str) -> None:
    """Cases that ended last: a wrongly cleared one can be reopened."""
    ended = case_rows.ended_cases(board, chosen)
    if ended:
        layout.section("Ended last", "choose one to see what was done, or to reopen it")
        shown.rows(ended, key="ended", label="Cases that ended", kind="cases", chosen=going.choose_case)


def the_chosen(board: Board, case: Case | None) -> None:
    """Everything about the chosen case, and what can be done."""
    if case is None:
        layout.empty("This case is not on the board.", "It is not known yet, or no longer. Choose one from the list.")
        return
    st.html(case_panel.panel(board, case))
    with st.container():
        the_linked(board, case)
    if who.may_do(Deed.SEE_TO_CASES) and not board.then:
        case_actions.actions(board, case)
    record = case_panel.record(board, case)
    if record:
        st.html(record)
    if board.then:
        return
    if who.may_do(Deed.SEE_TO_CASES):
        who.written_under()
    else:
        who.only_looks(Deed.SEE_TO_CASES)


def the_linked(board: Board, case: Case) -> None:
    """The cases of a pattern, or the pattern that the case is one of."""
    pattern = once(pattern_words.pattern_of, board).get(case.case)
    linked = pattern_words.linked(board, case) if case.is_pattern else [pattern] if pattern else []
    if linked:
        rows = case_rows.linked_cases(board, linked)
        shown.rows(rows, key="linked", label="Linked cases", kind="few", chosen=going.choose_case)
        layout.note(sentences.linked_not_shown(len(linked), case_rows.SHOWN_LINKED))


layout.live(exceptions, then.as_asked)
