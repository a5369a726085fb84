"""The call that is being written down at this desk: what was typed outlives redrawing, other pages and refusals."""

import secrets
import time
from collections.abc import Mapping
from zoneinfo import ZoneInfo

import streamlit as st

from county.domain.phone_call import PhoneCall, Voting, report_of
from county.domain.receipts import Outcome, Receipt
from county.errors import NotAllowed, Problem, Refused
from dashboard import feed, going, who, words
from dashboard.board_now import Board
from dashboard.draft import Draft
from dashboard.place_sought import PlaceSought

DRAFT = Draft("call", ("search", "place", "voting", "danger", "exception", "since", "role", "device", "note"))
widget = DRAFT.widget
_KEY, _PROBLEMS, _DONE = "call-key", "call-problems", "call-done"
_LAST, _A_MOMENT = "call-last", 10.0
_CONFLICT = "This call is in the record already, in other words; these are set aside. Write down only what is new."


def key() -> str:
    """This call's own key: the same until it is written down, so that a double click is one report."""
    held: str = st.session_state.setdefault(_KEY, f"board-{secrets.token_hex(12)}")
    return held


SOUGHT = PlaceSought(DRAFT, key)
place = SOUGHT.place


def zone_of(board: Board, place: str) -> ZoneInfo:
    """The place's own zone, in which a caller says the time; the county's while no place is chosen."""
    now = board.place_by_id.get(place)
    return ZoneInfo(now.place.time_zone) if now and now.place.time_zone else board.zone


def call(board: Board) -> PhoneCall:
    """What has been answered so far."""
    said = st.session_state
    voting, danger = said.get(widget("voting")), said.get(widget("danger"))
    return PhoneCall(
        place=place(board),
        voting=Voting(voting) if voting else None,
        danger=None if danger is None else danger == "yes",
        **{name: str(said.get(widget(name)) or "") for name in ("exception", "since", "role", "device", "note")},
    )


def problems() -> Mapping[str, str]:
    """What is wrong with the call as it was last tried, by field."""
    held: Mapping[str, str] = st.session_state.get(_PROBLEMS, {})
    return held


def done() -> str:
    """What was written down last, in a sentence; empty where nothing was, or a new call has begun."""
    return str(st.session_state.get(_DONE, ""))


def write_down(tried: str) -> None:
    """Keep the call with this key, once; where it is refused, everything typed stays."""
    if tried != key():
        return
    feed.current().refresh(at_once=True)
    board = feed.newest()
    if board is None:
        return
    DRAFT.keep_typed()
    said = call(board)
    if _just_written(said):
        _begin_anew(done())
        return
    now = board.place_by_id.get(said.place)
    try:
        day, zone = (now.day if now else None), zone_of(board, said.place)
        raw = report_of(said, tried, day, board.plan, feed.current().now(), zone)
        receipt = feed.current().take(_as_first_tried(said, raw), who.name())
    except Refused as refused:
        st.session_state[_PROBLEMS] = _by_field(refused.problems)
        return
    except NotAllowed as error:
        st.session_state[_PROBLEMS] = {"": words.sentence(str(error))}
        return
    if receipt.outcome is Outcome.CONFLICT:
        st.session_state[_PROBLEMS] = {"": _CONFLICT}
        st.session_state.pop(_KEY)
        return
    st.session_state[_LAST] = (said, time.monotonic())
    _begin_anew(_says(board, said, receipt))


def _just_written(said: PhoneCall) -> bool:
    """Whether these very answers were written down a moment ago: the second click of two may bring them once more."""
    last, at = st.session_state.get(_LAST, (None, 0.0))
    return bool(last == said and time.monotonic() - at < _A_MOMENT)


def start_over() -> None:
    """Forget what was typed."""
    _begin_anew("")


def _as_first_tried(said: PhoneCall, raw: dict[str, object]) -> dict[str, object]:
    """The same answers are the same report, also where `10 min ago` is read a moment later."""
    tried = st.session_state.get("call-tried")
    if tried is None or tried[0] != (key(), said):
        tried = st.session_state["call-tried"] = ((key(), said), raw)
    first: dict[str, object] = tried[1]
    return first


def _by_field(found: tuple[Problem, ...]) -> dict[str, str]:
    names = {"effect": "voting", "kind": "exception"}
    return {names.get(each.field, each.field): words.sentence(each.says) for each in found}


def _says(board: Board, said: PhoneCall, receipt: Receipt) -> str:
    place = board.place_by_id[said.place].place
    what = words.unbegun(board.plan.kind(said.exception).says)
    at = words.clock(receipt.received_at, board.zone, seconds=True)
    return f"Written down at {at}: {place.name}, {place.place}, {what}. It is number {receipt.seq:,} in the ledger."


def _begin_anew(says: str) -> None:
    for name in DRAFT.fields:
        st.session_state[widget(name)] = None if name in ("place", "voting", "danger") else ""
    for held in (_KEY, _PROBLEMS, DRAFT.page, "call-tried"):
        st.session_state.pop(held, None)
    st.session_state[_DONE] = says


def to_case(case: str) -> None:
    """Turn to a case on the page of exceptions; what was typed waits here."""
    DRAFT.keep_typed()
    going.to_case(case)
