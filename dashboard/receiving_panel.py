"""The form for taking in what comes back: the place, ticks, seal numbers, two people by role; by keyboard alone."""

import streamlit as st

from county.domain.closing import PlaceClosing
from county.domain.receiving import RECEIVERS, SealAsked, seals_to_read
from county.domain.roles import Deed
from dashboard import closing_now, layout, receiving_form, who, words
from dashboard.board_now import Board
from dashboard.feed import once
from dashboard.markup import tag, text
from dashboard.receiving_draft import (
    SOUGHT,
    WHO,
    cut,
    differences,
    draft_of,
    here_on,
    keep_typed,
    key,
    looked,
    not_there,
    said_so_far,
    seal,
    tick,
    widget,
)

HOLD = "Do not open it. Two people stay with it. Tell the lead."
_WHO_SAYS = ("Who reads aloud? Their role", "Who types and looks? Their role")


def take_in(board: Board) -> None:
    """The whole form, or why there is none."""
    layout.section("Take in at the office", "tick what is there; two people read every seal")
    if board.then is not None:
        layout.note("Nothing can be taken in here: this is not now.")
        return
    if not who.may_do(Deed.REPORT):
        who.only_looks(Deed.REPORT)
        return
    _said_last(board)
    here = here_on(board)
    draft_of(here).bring_back()
    with st.container(key="receive"):
        SOUGHT.ask(board)
        here = here_on(board)
        draft_of(here).bring_back()
        _refusal(here, "place")
        if here:
            _what_came(board, here)
        _two_people(here)
        st.text_input("Note, if more is to be said. No names", key=widget("note"), max_chars=1_800)
        for field in ("note", ""):
            _refusal(here, field)
        _buttons()
    keep_typed(here)
    # until the first has left nobody is here to take anything in, and the cursor would only be in the way
    coming = any(each.custody.left_at or each.back for each in once(closing_now.places, board))
    SOUGHT.listen("st-key-receiving-search", focus=coming)


def _said_last(board: Board) -> None:
    """What was taken in last, and loudly what differed there."""
    if receiving_form.done():
        st.html(tag("p", text(receiving_form.done()), cls="pr-said", role="status"))
    if receiving_form.alerts():
        _alarm(board, receiving_form.alerts())


def _alarm(board: Board, found: tuple[str, ...]) -> None:
    """A difference, the county's own instruction for it, and what always holds."""
    kind = "item-missing" if all(each.startswith("Not there") for each in found) else "custody-gap"
    st.html(
        tag(
            "div",
            *(tag("p", tag("b", text(each))) for each in found),
            tag("p", text(board.plan.instruction(kind)), cls="pr-instruction"),
            tag("p", tag("b", text(HOLD))),
            cls="pr-said",
            role="alert",
        )
    )


def _what_came(board: Board, here: PlaceClosing) -> None:
    """The place, its items to tick and its seals to type."""
    place, back = here.now.place, here.custody.back_at
    brought = f" Brought by {words.listed(here.custody.carried_by)}." if here.custody.carried_by else ""
    again = " It was taken in before; what is written down now is added." if back else ""
    at = words.sentence(words.begun(closing_now.way(here, board)))
    st.html(tag("p", tag("b", text(f"{place.name}, {place.place}. ")), text(f"{at}{brought}{again}")))
    left, right = st.columns(2, gap="medium")
    with left:
        _items(here)
    with right:
        for asked in seals_to_read(here.custody):
            _a_seal(board, here, asked)
        _refusal(here, "seals")


def _items(here: PlaceClosing) -> None:
    place = here.now.place.place
    if not here.custody.items:
        layout.note("The county's plan lists no items; write in the note what came.")
    for each in here.custody.items:
        before = "" if each.back_at is None else ", taken in before"
        st.checkbox(f"{each.here.says}{before}", key=widget(tick(place, each.here.name)))
    _refusal(here, "looked")
    said = said_so_far(here)
    if said.looked or receiving_form.problems(here).get("looked"):
        missing = not_there(said, here)
        st.checkbox(f"Two people looked: not there{f' ({missing})' if missing else ''}", key=widget(looked(place)))


def _a_seal(board: Board, here: PlaceClosing, asked: SealAsked) -> None:
    """The number found, and that the seal is not whole; what was put on is said only after another was typed."""
    place = here.now.place.place
    if_here = "" if asked.item else ", if it is here"
    st.text_input(f"Seal of {asked.says}{if_here}: number found", key=widget(seal(place, asked)), max_chars=60)
    st.checkbox("Not whole, or not there", key=widget(cut(place, asked)))
    differs = differences(said_so_far(here), here).get(asked)
    if differs:
        _alarm(board, (differs,))


def _two_people(here: PlaceClosing | None) -> None:
    columns, roles = st.columns(2, gap="medium"), ("", *RECEIVERS)
    for field, label, column in zip(WHO, _WHO_SAYS, columns, strict=True):
        with column:
            # that nobody is chosen is an option too: set at every redraw, it would undo what a person chose meanwhile
            if st.session_state.get(widget(field)) not in roles:
                st.session_state[widget(field)] = ""
            st.selectbox(label, roles, format_func=lambda role: role or "Type a few letters", key=widget(field))
    _refusal(here, "roles")


def _buttons() -> None:
    with st.container(horizontal=True, gap="small"):
        st.button(
            "Write down that it is in",
            type="primary",
            key="receiving-write",
            on_click=receiving_form.write_down,
            args=(key(),),
        )
        st.button("Start over", type="tertiary", key="receiving-over", on_click=receiving_form.start_over)
    who.written_under()


def _refusal(here: PlaceClosing | None, field: str) -> None:
    """What is still open of one field, where it was tried and refused."""
    says = receiving_form.problems(here).get(field)
    if says:
        st.html(tag("p", text(says), cls="pr-warn", role="alert"))
