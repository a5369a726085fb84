"""Which place has not acknowledged a message, and what is to be told?"""

from collections.abc import Sequence

import streamlit as st

from county.domain.field_shapes import TEXT_LENGTH
from county.domain.recipients import Choice
from county.domain.roles import Deed
from county.domain.standing import Standing
from dashboard import layout, message_form, messages_now, shown, tables, who, words
from dashboard.board_now import Board
from dashboard.feed import once
from dashboard.markup import tag, text
from dashboard.message_form import Ready, widget
from dashboard.messages_now import Unseen

ROSTER = (
    "Changed hours do not change the roster by themselves: due times, lateness and the clock go by the roster's hours "
    "until they are set there."
)


def messages(board: Board) -> None:
    """Who has not acknowledged, longest waiting first, with the telephone; and a new message."""
    layout.heading(board, once(messages_now.sentence, board))
    left, right = st.columns([1.3, 1], gap="medium")
    waits = once(messages_now.unseen, board)
    chosen = message_form.chosen(waits)
    with left:
        waiting(board, waits, chosen)
        everything(board)
    with right:
        if chosen:
            call(board, chosen)
        write(board)


def waiting(board: Board, waits: Sequence[Unseen], chosen: Unseen | None) -> None:
    """The list to call through."""
    layout.section("Not acknowledged", "longest waiting first; choose one to call" if waits else "nothing waits")
    if chosen is None:
        return
    shown.rows(
        messages_now.rows(board, waits, chosen.id),
        key="unseen",
        label="Not acknowledged",
        kind="calls",
        chosen=message_form.choose,
    )
    if len(waits) > messages_now.SHOWN:
        layout.note(f"The {messages_now.SHOWN} longest are shown, of {len(waits):,}.")


def call(board: Board, chosen: Unseen) -> None:
    """Whom to call, what to read out, and the way to write down that they have it."""
    layout.section("Call them")
    with st.container(key="case"):
        st.html(messages_now.to_read_out(board, chosen))
        if message_form.seen_says():
            st.html(tag("p", text(message_form.seen_says()), cls="pr-said", role="status"))
        if not who.may_do(Deed.REPORT):
            who.only_looks(Deed.REPORT)
            return
        st.radio(
            "Who has acknowledged it? Their role, not their name",
            message_form.AT_THE_PLACE,
            index=None,
            horizontal=True,
            key=f"seen-role-{chosen.id}",
        )
        st.button(
            "Write down that they have it", key=f"seen-{chosen.id}", on_click=message_form.write_seen, args=(chosen,)
        )


def everything(board: Board) -> None:
    """Every message that was sent, newest first."""
    sent = once(messages_now.sent, board)
    layout.section("Sent", words.counted(len(sent), "message") if sent else "nothing yet")
    if sent:
        st.html(messages_now.listed(board, sent))


def write(board: Board) -> None:
    """A new message: what it says, whom it is for, and one question more where it goes to many."""
    layout.section("Write a message")
    if message_form.says():
        st.html(tag("p", text(message_form.says()), cls="pr-said", role="status"))
    if not who.may_do(Deed.TELL_EVERYBODY):
        who.only_looks(Deed.TELL_EVERYBODY)
        return
    asked = message_form.asked()
    if asked is not None:
        ask_once_more(board, asked)
        return
    message_form.DRAFT.bring_back()
    st.text_area("What are they to know?", key=widget("text"), max_chars=TEXT_LENGTH, height=150)
    choose(board)
    layout.note(ROSTER)
    places = message_form.meant(board)
    st.button(
        f"Send to {words.counted(len(places), 'place')}",
        type="primary",
        key="message-send",
        disabled=not places,
        on_click=message_form.try_to_send,
    )
    who.written_under()
    message_form.DRAFT.keep_typed()


def choose(board: Board) -> None:
    """Whom it is for."""
    st.radio("For whom?", [each.value for each in Choice], key=widget("choice"), horizontal=True)
    choice = message_form.choice()
    if choice is Choice.ZONES:
        zones = sorted({now.place.zone for now in board.places if now.place.zone})
        st.multiselect("Which zones?", zones, key=widget("zones"))
    elif choice is Choice.STANDINGS:
        standings = [each.value for each in Standing]
        st.multiselect(
            "Which?",
            standings,
            format_func=lambda each: f"{words.STANDING[Standing(each)]} ({board.totals[Standing(each)]:,})",
            key=widget("standings"),
        )
    elif choice is Choice.PLACES:
        names = once(tables.place_names, board)
        st.multiselect(
            "Which places?", list(names), format_func=lambda place: names.get(place, place), key=widget("places")
        )


def ask_once_more(board: Board, ready: Ready) -> None:
    """Nothing that was sent can be taken back, so to many it goes only after a second yes."""
    many = words.counted(len(ready.places), "place")
    st.html(
        tag(
            "div",
            tag("p", tag("b", text(f"Send this to {many}? It cannot be taken back."))),
            tag("p", text(ready.text), cls="pr-instruction pr-as-typed"),
            tag("p", text(words.sentence(f"To {ready.to}: {message_form.names_of(board, ready.places)}"))),
            cls="pr-case",
            role="alert",
        )
    )
    with st.container(horizontal=True, gap="small"):
        st.button(f"Yes, send to {many}", type="primary", key="message-yes", on_click=message_form.send, args=(ready,))
        st.button("Not yet", type="tertiary", key="message-no", on_click=message_form.not_yet)


layout.live(messages)
