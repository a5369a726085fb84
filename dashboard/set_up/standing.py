"""What the Set-up page reads of the office, and how what was done there is said afterwards."""

import time
from collections.abc import Callable
from dataclasses import dataclass, replace

import streamlit as st

from county.allowed import must_be_allowed_to
from county.domain.intake import Hand
from county.domain.readiness import Thing
from county.domain.roles import Deed
from county.errors import PollriseError, Refused
from county.getting_ready import things_to_do
from county.wiring import Office
from dashboard import feed, who, words
from dashboard.board_now import Board
from dashboard.markup import tag, text

LOOKS_AGAIN_AFTER = 3.0
"""Seconds: on the day a large ledger is not looked through at every report."""
_SAYS, _WRONG = "set-up-says", "set-up-wrong"


@dataclass(frozen=True, slots=True)
class _Looked:
    """What was found to be done, and of what at which monotonic second."""

    of: feed.Feed
    board: Board
    at: float
    things: tuple[Thing, ...]


_looked: list[_Looked] = []


def office_of(board: Board) -> Office:
    """The office with the plan that this board was drawn by."""
    return replace(feed.current().office, plan=board.plan)


def now_office() -> Office:
    """The office with the plan in force now."""
    newest = feed.newest()
    return office_of(newest) if newest else feed.current().office


def hand() -> Hand:
    """By whose hand something is written down now."""
    office, by = feed.current().office, who.name()
    return Hand(f"board:{by}", by, "board", office.clock.now(), office.clock.word)


def to_do(board: Board) -> tuple[Thing, ...]:
    """Everything that is still to be done before the day, worst first, as of this moment or some seconds ago."""
    for kept in _looked:
        same = kept.of is feed.current() and kept.board.roster is board.roster and kept.board.plan is board.plan
        if same and time.monotonic() - kept.at < LOOKS_AGAIN_AFTER:
            return kept.things
    things = things_to_do(office_of(board), board.roster)
    _looked[:] = [_Looked(feed.current(), board, time.monotonic(), things)]
    return things


def do(part: str, deed: Deed, work: Callable[[], str]) -> bool:
    """Do what a person asked for, where they may; whether it was done.

    What came of it, or why it was refused, is said in that part of the page; nothing typed is lost.
    """
    st.session_state[_SAYS], st.session_state[_WRONG] = {}, {}
    try:
        must_be_allowed_to(feed.current().office, who.name(), deed)
        says = work()
    except Refused as error:
        st.session_state[_WRONG] = {part: [words.sentence(str(problem)) for problem in error.problems]}
        return False
    except PollriseError as error:
        st.session_state[_WRONG] = {part: [words.sentence(str(error))]}
        return False
    st.session_state[_SAYS] = {part: says} if says else {}
    _looked.clear()
    feed.current().refresh(at_once=True)
    return True


def say(part: str) -> None:
    """What came of the last thing done in this part of the page."""
    says = st.session_state.get(_SAYS, {}).get(part)
    if says:
        st.html(tag("p", text(says), cls="pr-said pr-done", role="status"))
    wrong = st.session_state.get(_WRONG, {}).get(part)
    if wrong:
        st.html(tag("div", *(tag("p", text(line)) for line in wrong), cls="pr-said", role="alert"))
