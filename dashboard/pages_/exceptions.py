"""What needs a person now?"""

import streamlit as st

from county.domain.cases import Action, Case, State
from county.domain.roles import Deed, deed_of_action
from dashboard import acting, case_panel, case_rows, going, hand_over, layout, sentences, shown, then, who
from dashboard.board_now import Board
from dashboard.feed import once
from dashboard.markup import tag, text

NEXT = {
    State.RAISED: (Action.ACKNOWLEDGE, "Acknowledge"),
    State.ACKNOWLEDGED: (Action.ASSIGN, "Assign this rover"),
    State.ASSIGNED: (Action.UNDER_WAY, "Mark under way"),
    State.UNDER_WAY: (Action.ON_SITE, "Mark on site"),
    State.ON_SITE: (Action.CLEAR, "Clear"),
    State.CLEARED: (Action.REOPEN, "Reopen"),
    State.WITHDRAWN: (Action.REOPEN, "Reopen"),
}
"""The one next thing to do with a case, by its state."""
BESIDE = {
    Action.ASSIGN: "Send another rover",
    Action.NOTE: "Add the note",
    Action.CLEAR: "Clear",
    Action.WITHDRAW: "Withdraw",
}
NOTE = "Goes into the record with what you do"
WITH_ROVER = (State.ASSIGNED, State.UNDER_WAY, State.ON_SITE)


def exceptions(board: Board) -> None:
    """Open cases, worst first, and one of them beside."""
    layout.heading(board, once(sentences.exceptions, board))
    if board.then is None:
        hand_over.show(board)
    if not board.every_case:
        layout.empty("Nothing has been raised.", "Places not heard from are counted on the County page.")
        return
    chosen = going.chosen_case(board)
    left, right = st.columns([1.3, 1], gap="medium")
    with left:
        the_open(board, chosen)
        the_ended(board, chosen)
    with right, st.container(border=True, key="case"):
        the_chosen(board, board.case_by_id.get(chosen))


def the_open(board: Board, chosen: str) -> None:
    """Open cases with the response clock."""
    layout.section("Open, worst first", "bar: time since raised; the stroke on it is the county's target")
    if board.cases:
        shown.rows(
            case_rows.open_cases(board, chosen), key="open", label="Open cases", kind="cases", chosen=going.choose_case
        )
    layout.note(sentences.not_shown(board, case_rows.SHOWN_OPEN))


def the_ended(board: Board, chosen: str) -> None:
    """Cases that ended last: a wrongly cleared one can be reopened."""
    ended = case_rows.ended_cases(board, chosen)
    if ended:
        layout.section("Ended last", "choose one to see what was done, or to reopen it")
        shown.rows(ended, key="ended", label="Cases that ended", kind="cases", chosen=going.choose_case)


def the_chosen(board: Board, case: Case | None) -> None:
    """Everything about the chosen case, and what can be done."""
    if case is None:
        layout.empty("No case is chosen.", "Choose one from the list.")
        return
    st.html(case_panel.panel(board, case))
    if who.may_do(Deed.SEE_TO_CASES) and not board.then:
        actions(board, case)
    record = case_panel.record(board, case)
    if record:
        st.html(record)
    if board.then:
        return
    if who.may_do(Deed.SEE_TO_CASES):
        who.written_under()
    else:
        who.only_looks(Deed.SEE_TO_CASES)


def actions(board: Board, case: Case) -> None:
    """The next action as one button, the others beside it."""
    says = acting.said(case.case)
    if says:
        st.html(tag("p", text(says), cls="pr-said", role="alert"))
    next_action, label = NEXT[case.state]
    with st.form(f"act-{case.case}", border=False, enter_to_submit=False):
        if case.state is State.ACKNOWLEDGED or case.state in WITH_ROVER:
            rover(board, case)
        st.text_input("Note", key=acting.draft("note", case), max_chars=2000, placeholder=NOTE)
        with st.container(horizontal=True, gap="small"):
            button(case, next_action, label, "primary")
            for action in beside(case, next_action):
                button(case, action, BESIDE[action], "secondary")


def beside(case: Case, next_action: Action) -> list[Action]:
    """What else can be done in this state."""
    possible = BESIDE if case.state.open else ()
    return [
        each
        for each in possible
        if each is not next_action
        and (each is not Action.ASSIGN or case.state in WITH_ROVER)
        and who.may_do(deed_of_action(each))
    ]


def rover(board: Board, case: Case) -> None:
    """Whom to send, those of the place's own zone first."""
    names = case_rows.rovers_to_choose(board, case)
    st.selectbox(
        "Rover",
        list(names),
        index=None,
        format_func=lambda rover: names.get(rover, rover),
        key=acting.draft("rover", case),
        placeholder="Choose a rover by name",
    )
    layout.note(case_rows.rovers_busy(board))


def button(case: Case, action: Action, label: str, kind: str) -> None:
    """One button; what it means is fixed when it is drawn."""
    st.form_submit_button(
        label,
        type="primary" if kind == "primary" else "secondary",
        key=f"do-{action.value}-{case.case}",
        on_click=acting.take,
        args=(case, action, acting.intended(case, action)),
    )


layout.live(exceptions, then.as_asked)
