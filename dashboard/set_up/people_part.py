"""The people: who is there in which role, added with a first password, reset, changed, ended."""

from collections.abc import Mapping
from datetime import datetime

import streamlit as st

from county import getting_ready, staffing
from county.domain.people import Account, Person, Role, read_name
from county.domain.roles import Deed
from dashboard import layout, words
from dashboard import who as who_
from dashboard.board_now import Board
from dashboard.markup import Markup, quiet, tag, text
from dashboard.set_up import standing

PART = "People"
ROLE_SAYS: Mapping[Role, str] = {
    Role.DESK: "desk: takes calls, sees to cases",
    Role.LEAD: "lead: the same, and sets up",
    Role.ROVER: "rover: sees the rovers' page",
    Role.VIEWER: "viewer: sees, and does nothing",
}
_PASSWORD = "people-password"  # noqa: S105  the name of a place to keep one


def show(board: Board) -> None:
    """Everybody, and beside them what can be done."""
    office = standing.office_of(board)
    accounts = staffing.accounts(office)
    signed_in = getting_ready.signed_in_at(office)
    standing_ = [account for account in accounts if not account.ended_at]
    layout.section("People", words.counted(len(standing_), "account"))
    standing.say(PART)
    _password_once()
    left, right = st.columns([1.5, 1], gap="medium")
    with left:
        st.html(_table(board, accounts, signed_in))
    with right:
        _add()
        _change(accounts)


def _add() -> None:
    with st.form("people-add", border=True, clear_on_submit=False):
        st.text_input("Name of somebody new", key="people-name", max_chars=60)
        st.radio("Role", list(Role), format_func=ROLE_SAYS.__getitem__, key="people-role")
        st.form_submit_button("Add", type="primary", key="people-added", on_click=_added)


def _added() -> None:
    name, role = str(st.session_state.get("people-name", "")), Role(st.session_state["people-role"])

    def work() -> str:
        person = Person(read_name(name), role)
        password = staffing.add_person(standing.now_office(), person, by=who_.name())
        if not password:
            return f"{person.name} is here already, as {person.role}."
        st.session_state[_PASSWORD] = (person.name, password)
        return ""

    if standing.do(PART, Deed.STAFF, work):
        st.session_state["people-name"] = ""


def _change(accounts: tuple[Account, ...]) -> None:
    names = [account.name for account in accounts]
    with st.expander("Change an account", key="people-change"):
        st.selectbox("Whose?", names, key="people-whose")
        st.button("New first password", key="people-reset", on_click=_reset)
        st.selectbox("Another role", list(Role), key="people-to", format_func=ROLE_SAYS.__getitem__)
        st.button("Give this role", key="people-give", on_click=_give)
        st.button("End the account", key="people-end", on_click=_end)
        layout.note(
            "Whoever is reset or ended is signed out everywhere at once. A new first password takes back an account "
            "that has ended. What they did stays in the record."
        )


def _whose() -> str:
    return str(st.session_state["people-whose"])


def _reset() -> None:
    def work() -> str:
        st.session_state[_PASSWORD] = (_whose(), staffing.reset_password(standing.now_office(), _whose(), who_.name()))
        return ""

    standing.do(PART, Deed.STAFF, work)


def _give() -> None:
    role = Role(st.session_state["people-to"])

    def work() -> str:
        changed = staffing.change_role(standing.now_office(), _whose(), role, who_.name())
        return f"{_whose()} is {role} from now on." if changed else f"{_whose()} is {role} already."

    standing.do(PART, Deed.STAFF, work)


def _end() -> None:
    def work() -> str:
        ended = staffing.end_account(standing.now_office(), _whose(), who_.name())
        return f"The account of {_whose()} has ended." if ended else f"The account of {_whose()} had ended already."

    standing.do(PART, Deed.STAFF, work)


def _password_once() -> None:
    """A first password, until it was noted."""
    name, password = st.session_state.get(_PASSWORD, ("", ""))
    if not password:
        return
    with st.container(border=True, key="people-once"):
        says = f"The first password of {name}, shown this once. They change it when they first sign in."
        st.html(tag("p", text(says), role="status"))
        st.code(password, language=None)
        st.button("I have written it down", key="people-noted", on_click=lambda: st.session_state.pop(_PASSWORD, None))


def _table(board: Board, accounts: tuple[Account, ...], signed_in: Mapping[str, datetime]) -> Markup:
    head = tag("tr", *(tag("th", text(name), scope="col") for name in ("Name", "Role", "Last signed in")))
    ordered = sorted(
        accounts, key=lambda account: (account.ended_at is not None, account.name in signed_in, account.name)
    )
    rows = (_row(board, account, signed_in) for account in ordered)
    return tag("table", tag("thead", head), tag("tbody", *rows), cls="pr-entries pr-plain")


def _row(board: Board, account: Account, signed_in: Mapping[str, datetime]) -> Markup:
    at = signed_in.get(account.name)
    when = f"{at.astimezone(board.zone):%Y-%m-%d %H:%M}" if at else "never"
    ended = quiet(", account ended") if account.ended_at else ""
    waits = quiet(", first password not changed yet") if account.must_change and not account.ended_at else ""
    return tag("tr", tag("td", text(account.name), ended), tag("td", text(account.role)), tag("td", text(when), waits))
