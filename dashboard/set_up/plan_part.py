"""The plan: what it says in tables, its text to be changed and checked, and every version before."""

import streamlit as st

from county import plans
from county.domain.plan_rehearsed import marked
from county.domain.plan_versions import PlanVersion, difference
from county.domain.roles import Deed
from county.errors import BadPlan, NotSure
from county.plans import Standing
from dashboard import layout, words
from dashboard.board_now import Board
from dashboard.markup import Markup, quiet, tag, text
from dashboard.set_up import plan_tables, standing

PART = "Plan"
_TEXT, _BASED, _ASKED, _FAULT, _NOTE = "plan-text", "plan-based", "plan-asked", "plan-fault", "plan-note"


def show(board: Board) -> None:
    """Which plan is in force, its tables, its text, and the versions before."""
    office = standing.office_of(board)
    now = plans.standing(office)
    layout.section("Plan", _in_force(board, now))
    standing.say(PART)
    _day_or_rehearsal(board, now)
    if not _asked_of_typed():
        _sure()
    chosen = st.segmented_control(
        "Part of the plan", [*plan_tables.TABLES], default="Election", required=True, key="plan-table",
        label_visibility="collapsed",
    )  # fmt: skip
    st.html(plan_tables.TABLES[str(chosen)](board.plan))
    with st.expander("Change it", key="plan-change"):
        _edit(now)
    if now.versions:
        with st.expander(f"Versions: {len(now.versions):,}", key="plan-versions"):
            _versions(board, now)


def _in_force(board: Board, now: Standing) -> str:
    if not now.in_ledger:
        return "as plan.toml says, until somebody changes it here"
    newest = now.versions[-1]
    return f"version {newest.number}, made by {newest.by} {_at(board, newest)}"


def _day_or_rehearsal(board: Board, now: Standing) -> None:
    """One button for the change that every county makes once."""
    if board.plan.election.rehearsal and not st.session_state.get(_ASKED):
        st.button(
            "Make it the real day: no longer a rehearsal", key="plan-real", on_click=_mark, args=(now.text, now.number)
        )


def _mark(text_: str, based_on: int) -> None:
    st.session_state[_FAULT] = ""
    try:
        made = marked(text_, rehearsal=False)
    except BadPlan as error:
        st.session_state[_FAULT] = str(error)
        return
    _save(made, based_on, "no longer a rehearsal")


def _edit(now: Standing) -> None:
    """The text, with what is wrong with it; based on the version that stood when it was begun."""
    if _BASED not in st.session_state or _TEXT not in st.session_state:
        st.session_state[_BASED], st.session_state[_TEXT] = now.number, now.text
    if st.session_state[_BASED] != now.number:
        st.html(tag("p", text("Somebody has made a newer version since this text was begun."), cls="pr-warn"))
        st.button("Begin again from the newest", key="plan-anew", on_click=_begin_again)
    fault = st.session_state.get(_FAULT)
    if fault:
        st.html(tag("p", text(fault), cls="pr-said", role="alert"))
    if _asked_of_typed():
        _sure()
    with st.form("plan-form", border=False, enter_to_submit=False):
        st.text_area("The plan's text (TOML)", key=_TEXT, height=420, persist_state="session")
        st.text_input("Why it is changed", key=_NOTE, max_chars=300)
        st.form_submit_button("Check it and make it the plan", type="primary", key="plan-save", on_click=_save_typed)
    layout.note("Checked first; where something is wrong nothing is changed. The version before stays readable.")


def _save_typed() -> None:
    _save(str(st.session_state[_TEXT]), int(st.session_state[_BASED]), str(st.session_state.get(_NOTE, "")))


def _save(text_: str, based_on: int, note: str, *, sure: bool = False) -> None:
    """Make it the plan; where the day rests on what changes, ask once more first."""
    st.session_state[_FAULT] = ""
    st.session_state.pop(_ASKED, None)

    def work() -> str:
        office = standing.now_office()
        try:
            made = plans.save(office, text_, standing.hand(), based_on=based_on, sure=sure, note=note)
        except NotSure as error:
            st.session_state[_ASKED] = (error.asked, text_, based_on, note)
            return ""
        except BadPlan as error:
            st.session_state[_FAULT] = _with_line(error, text_)
            return ""
        _begin_again()
        return f"Version {made[-1].number} is the plan, in every program from now on."

    standing.do(PART, Deed.SET_UP, work)


def _asked_of_typed() -> bool:
    """Whether it is the typed text that was asked about, and not the one button."""
    asked = st.session_state.get(_ASKED)
    return asked is not None and bool(asked[1] == st.session_state.get(_TEXT))


def _sure() -> None:
    """What the day rests on, asked once more, there where it was wanted."""
    if _ASKED not in st.session_state:
        return
    asked, text_, based_on, note = st.session_state[_ASKED]
    with st.container(border=True, key="plan-sure"):
        st.html(tag("p", tag("b", text("The day rests on this. Is it meant?")), role="alert"))
        st.html(tag("ul", *(tag("li", text(says)) for says in asked), cls="pr-history"))
        with st.container(horizontal=True):
            st.button(
                "Yes, make it so", type="primary", key="plan-yes", on_click=_save, args=(text_, based_on, note),
                kwargs={"sure": True},
            )  # fmt: skip
            st.button("No, leave the plan as it is", key="plan-no", on_click=lambda: st.session_state.pop(_ASKED, None))


def _begin_again() -> None:
    for key in (_BASED, _TEXT, _ASKED):
        st.session_state.pop(key, None)


def _with_line(error: BadPlan, text_: str) -> str:
    """What is wrong, with the line it stands in."""
    lines = text_.splitlines()
    stands = f" The line says: “{lines[error.line - 1].strip()[:200]}”." if 0 < error.line <= len(lines) else ""
    return f"{words.begun(str(error))}.{stands} Nothing is changed."


def _versions(board: Board, now: Standing) -> None:
    by_number = {version.number: version for version in reversed(now.versions)}
    number = st.selectbox(
        "Version",
        list(by_number),
        key=f"plan-version-{now.number}",
        format_func=lambda each: _named(board, by_number[each]),
    )
    version = by_number.get(number) or now.versions[-1]
    before = by_number.get(version.number - 1)
    if version.note:
        layout.note(f"Why: {version.note}")
    st.html(tag("p", quiet(f"SHA-256 of its text: {version.digest}"), cls="pr-note"))
    if before:
        st.html(_difference(before.text, version.text))
    st.download_button(
        "Download its text",
        version.text,
        f"plan-{version.number}.toml",
        "text/plain",
        key="plan-file",
        on_click="ignore",
    )
    with st.expander("Its whole text", key="plan-whole"):
        st.code(version.text, language="toml", height=420)


def _difference(before: str, after: str) -> Markup:
    lines = difference(before, after)
    kinds = {"+": "ins", "-": "del"}
    shown = (tag(kinds[line[0]], text(line)) if line[:1] in kinds else tag("span", text(line)) for line in lines)
    return tag("pre", *(f"{each}\n" for each in shown), cls="pr-difference", tabindex="0", aria_label="What changed")


def _named(board: Board, version: PlanVersion) -> str:
    rehearsal = ", a rehearsal" if version.rehearsal else ""
    return f"{version.number}, {version.by} {_at(board, version)}{rehearsal}"


def _at(board: Board, version: PlanVersion) -> str:
    return f"{version.at.astimezone(board.zone):%Y-%m-%d %H:%M}"
