"""The message that is being written at this desk, and the acknowledgement of one that was given by telephone."""

import secrets
from collections.abc import Sequence
from dataclasses import dataclass

import streamlit as st

from county.domain.entries import Kind
from county.domain.phone_call import ROLES
from county.domain.receipts import Outcome
from county.domain.recipients import Choice, recipients
from county.domain.roles import Deed
from county.domain.standing import Standing
from county.errors import NotAllowed, Refused
from dashboard import feed, who, words
from dashboard.board_now import Board
from dashboard.draft import Draft
from dashboard.messages_now import Unseen

DRAFT = Draft("message", ("text", "choice", "zones", "standings", "places"))
widget = DRAFT.widget
AT_THE_PLACE = ROLES[:2]
"""Who at a place acknowledges, by role."""
_KEY, _ASKED, _SAYS, _SEEN_SAYS = "message-key", "message-asked", "message-says", "seen-says"
_NAMED = 3


@dataclass(frozen=True, slots=True)
class Ready:
    """A message as it would be sent: to these places and no others, whatever changes meanwhile."""

    key: str
    text: str
    to: str
    places: tuple[str, ...]


def choice() -> Choice:
    """How the places are chosen."""
    return Choice(st.session_state.get(widget("choice")) or Choice.EVERY)


def meant(board: Board) -> tuple[str, ...]:
    """The places that are chosen now."""
    return recipients(choice(), _which(), board.places)


def in_words(board: Board) -> str:
    """Whom the message is for, as the record says it."""
    which = _which()
    named = {
        Choice.EVERY: Choice.EVERY.value,
        Choice.ZONES: f"zone {words.listed(which)}",
        Choice.STANDINGS: f"places {words.listed(words.STANDING.get(Standing(each), each) for each in which)}"
        if choice() is Choice.STANDINGS
        else "",
        Choice.PLACES: names_of(board, which),
    }
    return named[choice()]


def names_of(board: Board, places: tuple[str, ...]) -> str:
    """Places by name, a few of them, and how many more."""
    names = [board.place_by_id[place].place.name for place in places if place in board.place_by_id]
    more = words.counted(len(names) - _NAMED, "other place") if len(names) > _NAMED else ""
    return words.listed([*names[:_NAMED], more])


def asked() -> Ready | None:
    """The message of which was asked whether it is to go to so many; None where nothing was asked."""
    held: Ready | None = st.session_state.get(_ASKED)
    return held


def says() -> str:
    """What became of the last message, or what it lacks."""
    return str(st.session_state.get(_SAYS, ""))


def try_to_send() -> None:
    """Send to one place at once; ask first where it goes to many."""
    st.session_state.pop(_ASKED, None)
    board = feed.newest()
    if board is None or not _may():
        return
    DRAFT.keep_typed()
    ready = Ready(_key(), str(st.session_state.get(widget("text")) or ""), in_words(board), meant(board))
    if len(ready.places) > 1 and ready.text.strip():
        st.session_state[_ASKED] = ready
        st.session_state[_SAYS] = ""
    else:
        send(ready)


def send(ready: Ready) -> None:
    """Send it: once, however often this is pressed."""
    st.session_state.pop(_ASKED, None)
    if not _may():
        return
    try:
        receipts = feed.current().send_message(ready.key, ready.text, ready.to, ready.places, who.name())
    except (Refused, NotAllowed) as error:
        st.session_state[_SAYS] = f"Not sent: {_problems(error)}."
        return
    board = feed.newest()
    at = words.clock(receipts[0].received_at, board.zone, seconds=True) if board else ""
    st.session_state[_SAYS] = f"Sent {at} to {words.counted(len(receipts), 'place')}."
    st.session_state[widget("text")] = ""
    for held in (_KEY, DRAFT.page):
        st.session_state.pop(held, None)


def not_yet() -> None:
    """Back to writing."""
    st.session_state.pop(_ASKED, None)


def chosen(waits: Sequence[Unseen]) -> Unseen | None:
    """The one a person chose to call; at first the longest waiting."""
    wanted = st.session_state.get("message-chosen")
    return next((each for each in waits if each.id == wanted), waits[0] if waits else None)


def choose(each: str) -> None:
    """Choose which place to call."""
    st.session_state["message-chosen"] = each
    st.session_state[_SEEN_SAYS] = ""


def write_seen(each: Unseen) -> None:
    """Write down that somebody at the place, by role, has acknowledged it by telephone."""
    role = str(st.session_state.get(f"seen-role-{each.id}") or "")
    place = each.now.place
    if not role:
        st.session_state[_SEEN_SAYS] = "Not written down: say who has acknowledged it, by role."
        return
    if not who.may_do(Deed.REPORT):
        return
    raw = {
        # one acknowledgement a person, however often they press
        "key": f"seen-{secrets.token_hex(8)}",
        "place": place.place,
        "kind": Kind.MESSAGE_SEEN.value,
        "message": each.told.message,
        "role": role,
        "note": "read out by telephone",
    }
    tried = st.session_state.setdefault(f"seen-raw-{each.id}", raw) | {"role": role}
    try:
        receipt = feed.current().take(tried, who.name())
    except (Refused, NotAllowed) as error:
        st.session_state[_SEEN_SAYS] = f"Not written down: {_problems(error)}."
        return
    kept = receipt.outcome in (Outcome.KEPT, Outcome.ALREADY_HELD)
    st.session_state[_SEEN_SAYS] = (
        f"Written down: {place.name} has it, says the {role}." if kept else f"Not written down: {receipt.says}."
    )


def seen_says() -> str:
    """What became of the last acknowledgement by telephone."""
    return str(st.session_state.get(_SEEN_SAYS, ""))


def _which() -> tuple[str, ...]:
    name = {Choice.ZONES: "zones", Choice.STANDINGS: "standings", Choice.PLACES: "places"}.get(choice())
    return tuple(st.session_state.get(widget(name)) or ()) if name else ()


def _key() -> str:
    held: str = st.session_state.setdefault(_KEY, f"board-{secrets.token_hex(8)}")
    return held


def _may() -> bool:
    may = who.may_do(Deed.TELL_EVERYBODY)
    if not may:
        st.session_state[_SAYS] = "Not sent: your role may not send messages."
    return may


def _problems(error: Refused | NotAllowed) -> str:
    return "; ".join(each.says for each in error.problems) if isinstance(error, Refused) else str(error)
