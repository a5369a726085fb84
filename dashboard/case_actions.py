"""What can be done with the chosen case: the next thing as one button, the others beside it, a rover already chosen."""

from collections.abc import Mapping
from types import MappingProxyType

import streamlit as st

from county.domain.cases import Action, Case, State
from county.domain.effects import Effect
from county.domain.roles import deed_of_action
from dashboard import acting, case_rows, layout, who, words
from dashboard.board_now import Board
from dashboard.feed import once
from dashboard.markup import tag, text
from dashboard.rover_choice import Choice, choice

NEXT: Mapping[State, tuple[Action, str]] = MappingProxyType(
    {
        State.RAISED: (Action.ACKNOWLEDGE, "Acknowledge"),
        State.ACKNOWLEDGED: (Action.ASSIGN, "Assign this rover"),
        State.ASSIGNED: (Action.UNDER_WAY, "Mark under way"),
        State.UNDER_WAY: (Action.ON_SITE, "Mark on site"),
        State.ON_SITE: (Action.CLEAR, "Clear"),
        State.CLEARED: (Action.REOPEN, "Reopen"),
        State.WITHDRAWN: (Action.REOPEN, "Reopen"),
    }
)
"""The one next thing to do with a case, by its state."""
BESIDE: Mapping[Action, tuple[str, tuple[State, ...]]] = MappingProxyType(
    {
        Action.ACCEPT: ("Rover accepts", (State.ASSIGNED,)),
        Action.CANNOT: ("Rover cannot go", (State.ASSIGNED, State.UNDER_WAY)),
        Action.ASSIGN: ("Send another rover", (State.ASSIGNED, State.UNDER_WAY, State.ON_SITE)),
        Action.NOTE: ("Add the note", tuple(state for state in State if state.open)),
        Action.CLEAR: ("Clear", tuple(state for state in State if state.open)),
        Action.WITHDRAW: ("Withdraw", tuple(state for state in State if state.open)),
    }
)
"""What else can be done, and in which states."""
NOTE = "Goes into the record with what you do"
WITHOUT_ROVER = (State.RAISED, State.CLEARED, State.WITHDRAWN)


def actions(board: Board, case: Case) -> None:
    """Everything that the person who looks may do with this case now."""
    offered = None if case.is_pattern else once(choice, board, case)
    # what comes and goes stands in a container that is always there, so that the form and who types in it stay
    with st.container():
        says = acting.said(case.case)
        if says:
            st.html(tag("p", text(says), cls="pr-said", role="alert"))
        if offered and case.state.open:
            whom_to_send(board, case, offered)
    action, label = next_action(case)
    with st.form(f"act-{case.case}", border=False, enter_to_submit=False):
        st.text_input("Note", key=acting.draft("note", case), max_chars=2000, placeholder=NOTE)
        with st.container(horizontal=True, gap="small"):
            button(case, action, label, offered, first=True)
            for each in beside(case, action):
                button(case, each, BESIDE[each][0], offered)
    if case.state.open and who.may_do(deed_of_action(Action.EFFECT)):
        another_effect(case)


def next_action(case: Case) -> tuple[Action, str]:
    """The next thing to do; nobody is sent to a pattern, its cases have rovers of their own."""
    return (Action.CLEAR, "Clear") if case.is_pattern and case.state is State.ACKNOWLEDGED else NEXT[case.state]


def beside(case: Case, first: Action) -> list[Action]:
    """What else can be done in this state, by this person."""
    possible = [action for action, (_, states) in BESIDE.items() if case.state in states and action is not first]
    if case.accepted_at or not case.rover:
        possible = [action for action in possible if action is not Action.ACCEPT]
    return [action for action in possible if who.may_do(deed_of_action(action))]


def whom_to_send(board: Board, case: Case, offered: Choice) -> None:
    """The board's suggestion and why; where a rover is to be chosen it is chosen already, until the desk chooses."""
    if case.state not in WITHOUT_ROVER:
        key = acting.draft("rover", case)
        acting.follow(key, offered.suggested)
        st.selectbox(
            "Rover",
            list(offered.names),
            index=None,
            format_func=lambda rover: offered.names.get(rover, rover),
            key=key,
            on_change=acting.chose,
            args=(key,),
            placeholder="Choose a rover by name",
        )
    if offered.says and case.state is not State.ON_SITE:
        st.html(tag("p", text(offered.says), cls="pr-suggested"))
    if case.state not in WITHOUT_ROVER:
        layout.note(case_rows.rovers_busy(board))


def another_effect(case: Case) -> None:
    """Another effect on voting than the reports have, with the reason."""
    with st.expander("Change its effect"), st.form(f"effect-{case.case}", border=False, enter_to_submit=False):
        st.selectbox(
            "Effect on voting",
            [effect.value for effect in Effect if effect is not case.effect],
            index=None,
            format_func=lambda effect: words.EFFECT[Effect(effect)],
            key=acting.draft("effect", case),
            placeholder=f"now: {words.bearing(case)}",
        )
        st.text_input("Why", key=acting.draft("why", case), max_chars=2000, placeholder=NOTE)
        button(case, Action.EFFECT, "Change the effect", None)


def button(case: Case, action: Action, label: str, offered: Choice | None, *, first: bool = False) -> None:
    """One button; what it means is fixed when it is drawn."""
    st.form_submit_button(
        label,
        type="primary" if first else "secondary",
        key=f"do-{action.value}-{case.case}",
        on_click=acting.take,
        args=(case, action, acting.intended(case, action), offered),
    )
