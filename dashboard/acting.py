"""One thing a person does with a case: written down once, under their name, unless another desk was quicker."""

import secrets
from collections.abc import Sequence

import streamlit as st

from county.domain.cases import Action, Case, CaseStep
from county.domain.receipts import Outcome
from county.errors import PollriseError
from dashboard import feed, who, words
from dashboard.board_now import Board

NEEDS_NOTE = {
    Action.CLEAR: "Say in the note how it was cleared.",
    Action.WITHDRAW: "Say in the note why it is withdrawn.",
    Action.NOTE: "There is nothing in the note yet.",
}


def intended(case: Case, action: Action) -> str:
    """A key for this one intention: the same until the case has moved on, so that a double click is one entry."""
    about = (case.case, case.steps)
    held = st.session_state.get("intended")
    if held is None or held[0] != about:
        held = st.session_state["intended"] = (about, {})
    keys: dict[Action, str] = held[1]
    return keys.setdefault(action, f"board-{secrets.token_hex(12)}")


def draft(what: str, case: Case) -> str:
    """The key of a field being filled in for a case; another one, and so empty, once what it held is written down.

    Emptying the field by its key would be undone by a redraw that comes at the same moment.
    """
    return f"{what}-{case.case}-{st.session_state.get(f'written-{what}-{case.case}', 0)}"


def take(case: Case, action: Action, key: str) -> None:
    """Write down the action that the person saw a button for; `case` is as they saw it."""
    rover, note = (str(st.session_state.get(draft(what, case)) or "").strip() for what in ("rover", "note"))
    says = _missing(case, action, rover, note) or _meanwhile(case, key)
    raw = {"key": key, "action": action.value, "note": note, "rover": rover if action is Action.ASSIGN else ""}
    st.session_state["said"] = (case.case, says or _written(case.case, raw))


def _missing(case: Case, action: Action, rover: str, note: str) -> str:
    if action is Action.ASSIGN and not rover:
        return "Choose a rover first."
    needed = action in NEEDS_NOTE and (case.needs_person or action is not Action.CLEAR)
    return NEEDS_NOTE[action] if needed and not note else ""


def _meanwhile(case: Case, key: str) -> str:
    """What others did since the page was drawn; empty where nobody did anything."""
    feed.current().refresh(at_once=True)
    board = feed.newest()
    now = board.case_by_id.get(case.case) if board else None
    others = [step for step in now.steps if step not in case.steps and step.key != key] if now else []
    return others_acted(board, others) if board and others else ""


def others_acted(board: Board, others: Sequence[CaseStep]) -> str:
    """That somebody was quicker, and what they did."""
    did = words.listed(
        f"{step.by} ({step.action.replace('-', ' ')}, {words.clock(step.at, board.zone)})" for step in others
    )
    return f"Nothing was written down: meanwhile {did} acted on this case. Look at it again, then decide."


def said(case: str) -> str:
    """What there is to say about the last thing tried with this case."""
    about, says = st.session_state.get("said", ("", ""))
    return says if about == case else ""


def _written(case: str, raw: dict[str, str]) -> str:
    try:
        receipt = feed.current().act(case, raw, who.name())
    except PollriseError as error:
        return f"Not written down: {error}."
    if receipt.outcome is Outcome.CONFLICT:
        return "Not written down: this was tried before with another note. Look at the case again."
    for what in ("note", "rover"):
        if raw[what]:
            written = f"written-{what}-{case}"
            st.session_state[written] = st.session_state.get(written, 0) + 1
    return ""
