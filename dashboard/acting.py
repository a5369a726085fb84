"""One thing a person does with a case: written down once, under their name, unless another desk was quicker."""

import secrets
from collections.abc import Mapping, Sequence

import streamlit as st

from county.domain.cases import Action, Case, CaseStep
from county.domain.effects import Effect
from county.domain.moments import write_moment
from county.domain.receipts import Outcome
from county.errors import Overtaken, PollriseError
from dashboard import feed, who, words
from dashboard.board_now import Board
from dashboard.case_rows import rover_name
from dashboard.rover_choice import Choice

NEEDS_NOTE = {
    Action.CLEAR: "Say in the note how it was cleared.",
    Action.WITHDRAW: "Say in the note why it is withdrawn.",
    Action.NOTE: "There is nothing in the note yet.",
    Action.CANNOT: "Say in the note why the rover cannot go.",
    Action.EFFECT: "Say why its effect is another.",
}
_TYPED = ("note", "rover", "effect", "why")
_A_ROVERS_WORD = (Action.ACCEPT, Action.CANNOT)


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


def follow(key: str, suggested: str) -> None:
    """Keep a field at what the board suggests for as long as the person has not chosen for themselves.

    It is set only when the suggestion changes: set at every redraw, it would undo what a person chose meanwhile.
    """
    wanted = suggested or None
    if not st.session_state.get(f"own-{key}") and st.session_state.get(key) != wanted:
        st.session_state[key] = wanted


def chose(key: str) -> None:
    """The person has chosen in this field; what the board suggests later leaves it alone."""
    st.session_state[f"own-{key}"] = True


def take(case: Case, action: Action, key: str, offered: Choice | None = None) -> None:
    """Write down the action that the person saw a button for; `case` and what was `offered` are as they saw them."""
    typed = {what: str(st.session_state.get(draft(what, case)) or "").strip() for what in _TYPED}
    if action is Action.EFFECT:
        typed["note"] = typed["why"]
    says = _missing(case, action, typed) or _meanwhile(case, key)
    raw = {"key": key, "action": action.value, "note": typed["note"], **_more(case, action, typed, offered)}
    st.session_state["said"] = (case.case, says or _written(case, raw))


def _more(case: Case, action: Action, typed: Mapping[str, str], offered: Choice | None) -> dict[str, str]:
    """The fields beside the note: whom the desk sends, whom the board suggested, when they are expected."""
    if action is Action.EFFECT:
        return {"effect": typed["effect"]}
    if action in _A_ROVERS_WORD:
        return {"rover": case.rover}
    if action not in (Action.ASSIGN, Action.UNDER_WAY) or offered is None:
        return {}
    rover = typed["rover"] if action is Action.ASSIGN else case.rover
    expected = offered.expected.get(rover)
    more = {"expected_at": write_moment(expected.replace(microsecond=0))} if expected else {}
    return more | ({"rover": rover, "suggested": offered.suggested} if action is Action.ASSIGN else {})


def _missing(case: Case, action: Action, typed: Mapping[str, str]) -> str:
    if action is Action.ASSIGN and not typed["rover"]:
        return "Choose a rover first."
    if action is Action.EFFECT and not typed["effect"]:
        return "Choose another effect first."
    needed = action in NEEDS_NOTE and (case.needs_person or action is not Action.CLEAR)
    return NEEDS_NOTE[action] if needed and not typed["note"] else ""


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
        f"{step.by} ({words.commas([_did(board, step), words.clock(step.at, board.zone)])})" for step in others
    )
    return f"Nothing was written down: meanwhile {did} acted on this case. Look at it again, then decide."


def _did(board: Board, step: CaseStep) -> str:
    effect = words.EFFECT.get(Effect(step.effect), step.effect) if step.effect in tuple(Effect) else step.effect
    return words.commas([words.did(step.action, rover_name(board, step.rover) if step.rover else ""), effect])


def said(case: str) -> str:
    """What there is to say about the last thing tried with this case."""
    about, says = st.session_state.get("said", ("", ""))
    return says if about == case else ""


def _written(case: Case, raw: dict[str, str]) -> str:
    try:
        receipt = feed.current().act(case.case, raw, who.name(), [step.key for step in case.steps])
    except Overtaken:
        # closer than a redraw: what they did is in the ledger, and so on the next board
        return _meanwhile(case, raw["key"]) or "Nothing was written down: somebody was quicker. Look at the case again."
    except PollriseError as error:
        return f"Not written down: {error}."
    if receipt.outcome is Outcome.CONFLICT:
        return "Not written down: this was tried before with another note. Look at the case again."
    for what in ("why", "effect") if raw["action"] == Action.EFFECT else ("note", "rover"):
        if st.session_state.get(draft(what, case)):
            written = f"written-{what}-{case.case}"
            st.session_state[written] = st.session_state.get(written, 0) + 1
    return ""
