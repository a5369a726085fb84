"""Who is at the desk: asked once, shown, and written beside every action."""

import streamlit as st

from dashboard.markup import tag, text

LONGEST = 60
_KEY = "desk"
_PLACEHOLDER = "Your name, as the record will have it"
_WHY = "What you do here is written down under this name. Nobody signs in to this board yet."


def name() -> str:
    """The name of the person at this desk; empty while nobody has said."""
    said = st.session_state.get("desk-person") or _plain(st.query_params.get(_KEY, ""))
    if said:
        st.session_state["desk-person"] = said
        if st.query_params.get(_KEY) != said:
            st.query_params[_KEY] = said
    return str(said)


def ask() -> None:
    """Ask who is at the desk. There is no sign-in yet: the name is what they say it is."""
    with st.form("who", border=False):
        st.text_input(
            "Who is at this desk?",
            key="who-name",
            max_chars=LONGEST,
            placeholder="Your name, as the record will have it",
        )
        st.form_submit_button("Take this desk", type="primary", on_click=_sit_down, key="sit-down")
    st.html(
        tag(
            "p",
            text("What you do here is written down under this name. Nobody signs in to this board yet."),
            cls="pr-note",
        )
    )


def show() -> None:
    """Under whose name actions are written down, and the way to change it."""
    with st.container(horizontal=True, vertical_alignment="center", gap="small"):
        st.html(tag("p", text("Written down under "), tag("b", text(name())), cls="pr-note"), width="content")
        st.button("Somebody else is at the desk", type="tertiary", on_click=_get_up, key="get-up")


def _sit_down() -> None:
    said = _plain(str(st.session_state.get("who-name", "")))
    if said:
        st.session_state["desk-person"] = said


def _get_up() -> None:
    st.session_state.pop("desk-person", None)
    st.query_params.pop(_KEY, None)


def _plain(said: str) -> str:
    """One line of letters people can read, with single spaces."""
    return " ".join("".join(letter if letter.isprintable() else " " for letter in said).split())[:LONGEST]
