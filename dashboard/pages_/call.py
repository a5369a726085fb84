"""Take a call: is it known already, and what is to be written down?"""

from collections.abc import Mapping

import streamlit as st

from county.domain.phone_call import ROLES, Voting, kinds_to_ask
from dashboard import call_form, call_known, case_rows, layout, shown, who, words
from dashboard.board_now import Board
from dashboard.call_form import widget
from dashboard.markup import tag, text

SINCE = "now; or 10 min, or 6:10"


def take_a_call(board: Board) -> None:
    """The questions in the order they are asked, and beside them what is known there already."""
    layout.heading(board, call_known.sentence(board))
    call_form.DRAFT.bring_back()
    left, right = st.columns([1.3, 1], gap="medium")
    with left, st.container(key="call"):
        questions(board)
    with right:
        known(board)
    call_form.DRAFT.keep_typed()
    call_form.SOUGHT.listen("st-key-call-search")


def questions(board: Board) -> None:
    """One path by Tab and Enter."""
    says = call_form.done()
    st.html(
        tag(
            "p",
            text(says or "Ask in this order. Tab leads on; Enter or Space chooses."),
            cls="pr-said" * bool(says),
            role="status",
        )
    )
    call_form.SOUGHT.ask(board)
    refusal("place")
    st.html(call_known.in_brief(board, board.place_by_id.get(call_form.place(board))))
    st.radio("Can people vote?", [each.value for each in Voting], index=None, key=widget("voting"), horizontal=True)
    refusal("voting")
    st.radio("Is anyone in danger?", ["no", "yes"], index=None, key=widget("danger"), horizontal=True)
    refusal("danger")
    st.html(call_known.the_911_line(board, call_form.call(board)))
    what(board)
    for field in ("note", "key", ""):
        refusal(field)
    with st.container(horizontal=True, gap="small"):
        st.button(
            "Write it down", type="primary", key="call-write", on_click=call_form.write_down, args=(call_form.key(),)
        )
        st.button("Start over", type="tertiary", key="call-over", on_click=call_form.start_over)
    who.written_under()


def what(board: Board) -> None:
    """What it is, since when, who calls, and their words."""
    kinds = {kind.key: kind.says for kind in kinds_to_ask(board.plan)}
    left, right = st.columns(2, gap="small")
    with left:
        choose("exception", "What is it?", kinds)
    with right:
        st.text_input("Since when?", key=widget("since"), placeholder=SINCE, max_chars=20)
        zone = call_form.zone_of(board, call_form.place(board))
        if zone != board.zone:
            layout.note(f"By the place's own clock: {words.zone_word(zone, board.as_of)} time.")
        refusal("since")
    left, right = st.columns(2, gap="small")
    with left:
        choose("role", "Who is calling? Their role, not their name", {role: role for role in ROLES})
    with right:
        devices = board.roster.devices_at.get(call_form.place(board), ())
        choose(
            "device", "Which device, if it is one", {each.device: each.device for each in devices}, "None, or not said"
        )
    st.text_input("In their words, if more is to be said. No voter's name", key=widget("note"), max_chars=1_800)


def choose(field: str, label: str, options: Mapping[str, str], nothing: str = "Type a few letters") -> None:
    """One of several; that nothing is chosen is an option too, so that no button to clear it stands in the way."""
    names = {"": nothing, **options}
    if st.session_state.get(widget(field)) not in names:
        st.session_state[widget(field)] = ""
    st.selectbox(label, list(names), format_func=lambda each: names.get(each, each), key=widget(field))
    refusal(field)


def known(board: Board) -> None:
    """The place, as the caller can confirm it, and what is open there."""
    now = board.place_by_id.get(call_form.place(board))
    if now is None:
        layout.section("Known already")
        layout.note("What is open at the place stands here as soon as the place is chosen.")
        return
    st.html(call_known.where(now))
    exception = str(st.session_state.get(widget("exception")) or "")
    st.html(call_known.already_known(board, now.open_cases, exception) or tag("p"))
    layout.section("Known already", "" if now.open_cases else "nothing is open there")
    if now.open_cases:
        shown.rows(
            case_rows.cases_here(board, now.open_cases),
            key="known",
            label="Open cases there",
            kind="few",
            chosen=call_form.to_case,
        )


def refusal(field: str) -> None:
    """What is wrong with one field, where it was tried and refused."""
    says = call_form.problems().get(field)
    if says:
        st.html(tag("p", text(says), cls="pr-warn", role="alert"))


layout.live(take_a_call)
