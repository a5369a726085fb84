"""What came back is written down at this desk, once, as reports through the same intake as every other."""

from collections.abc import Mapping

import streamlit as st

from county.domain.closing import PlaceClosing
from county.domain.receipts import Outcome, Receipt
from county.domain.receiving import reports_of
from county.errors import NotAllowed, Problem, Refused
from dashboard import feed, who, words
from dashboard.board_now import Board
from dashboard.receiving_draft import KEY, differences, forget, here_on, keep_typed, key, not_there, said_so_far

_PROBLEMS, _DONE, _ALERTS = "receiving-problems", "receiving-done", "receiving-alerts"
_CONFLICT = "This is in the record already, in other words; these are set aside. Write down only what is new."
_FIELDS = ("place", "looked", "seals", "roles", "note")


def problems(here: PlaceClosing | None) -> Mapping[str, str]:
    """What was still open when this place was last tried, by field."""
    place, held = st.session_state.get(_PROBLEMS, ("", {}))
    found: Mapping[str, str] = held if place == _id(here) else {}
    return found


def done() -> str:
    """What was taken in last, in a sentence; empty where nothing was."""
    return str(st.session_state.get(_DONE, ""))


def alerts() -> tuple[str, ...]:
    """What differed in what was taken in last; it stays until the next is written down."""
    held: tuple[str, ...] = st.session_state.get(_ALERTS, ())
    return held


def write_down(tried: str) -> None:
    """Keep the receiving with this key, once; where something is still open, everything typed stays."""
    if tried != key():
        return
    feed.current().refresh(at_once=True)
    board = feed.newest()
    if board is None:
        return
    here = here_on(board)
    keep_typed(here)
    said = said_so_far(here)
    try:
        raws = reports_of(said, tried, here.custody if here else None, board.roster)
        receipts = feed.current().take_all(raws, who.name())
    except Refused as refused:
        st.session_state[_PROBLEMS] = (_id(here), _by_field(refused.problems))
        return
    except NotAllowed as error:
        st.session_state[_PROBLEMS] = (_id(here), {"": words.sentence(str(error))})
        return
    if any(receipt.outcome is Outcome.CONFLICT for receipt in receipts):
        st.session_state[_PROBLEMS] = (_id(here), {"": _CONFLICT})
        st.session_state.pop(KEY)
    elif here is not None:
        missing = not_there(said, here)
        differs = (*(f"Not there: {missing}." for _ in missing[:1]), *differences(said, here).values())
        _begin_anew(here, _says(board, here, receipts[0]), differs)


def start_over() -> None:
    """Forget what was ticked and typed."""
    board = feed.newest()
    _begin_anew(here_on(board) if board else None, "", ())


def _id(here: PlaceClosing | None) -> str:
    return here.now.place.place if here else ""


def _by_field(found: tuple[Problem, ...]) -> dict[str, str]:
    return {each.field if each.field in _FIELDS else "": words.sentence(each.says) for each in found}


def _says(board: Board, here: PlaceClosing, receipt: Receipt) -> str:
    place, at = here.now.place, words.clock(receipt.received_at, board.zone, seconds=True)
    return f"Taken in at {at}: {place.name}, {place.place}. It is number {receipt.seq:,} in the ledger."


def _begin_anew(here: PlaceClosing | None, says: str, differs: tuple[str, ...]) -> None:
    forget(here)
    st.session_state.pop(_PROBLEMS, None)
    st.session_state[_DONE], st.session_state[_ALERTS] = says, differs
