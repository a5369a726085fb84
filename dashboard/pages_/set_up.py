"""Are we ready?"""

from collections.abc import Callable, Mapping

import streamlit as st

from county.domain.readiness import Thing, Where, sentence
from dashboard import layout
from dashboard.board_now import Board
from dashboard.set_up import keys_part, people_part, plan_part, rehearsal_part, roster_part, standing, to_do_part

TO_DO = "To do"
PARTS: Mapping[str, Callable[[Board], None]] = {
    Where.ROSTER: roster_part.show,
    Where.PLAN: plan_part.show,
    Where.PEOPLE: people_part.show,
    Where.KEYS: keys_part.show,
    Where.REHEARSAL: rehearsal_part.show,
}


def set_up(board: Board) -> None:
    """The answer in a sentence, what is still to be done, and each part of the set-up."""
    things = standing.to_do(board)
    layout.heading(board, sentence(things))
    part = st.segmented_control(
        "Part of the set-up",
        [TO_DO, *PARTS],
        default=TO_DO,
        required=True,
        key="set-up-part",
        format_func=lambda name: _with_count(name, things),
        label_visibility="collapsed",
    )
    if part not in PARTS:
        to_do_part.show(things)
        return
    mine = [thing for thing in things if thing.check.where == part]
    if mine:
        with st.expander(f"Still to do here: {len(mine)}", expanded=True):
            st.html(to_do_part.listed(mine, with_part=False))
    PARTS[part](board)


def _with_count(name: str, things: tuple[Thing, ...]) -> str:
    count = len(things) if name == TO_DO else sum(thing.check.where == name for thing in things)
    return f"{name} {count}" if count else name


layout.live(set_up)
