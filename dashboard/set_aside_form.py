"""Putting one report right that was set aside: its fields as they were sent, to be changed, taken in or dismissed."""

from collections.abc import Mapping

import streamlit as st

from county.domain.entries import FIELDS
from county.domain.receipts import SetAside
from county.domain.settling import fields_of
from county.errors import NotAllowed, Refused
from dashboard import feed, who, words
from dashboard.markup import tag, text

_PROBLEMS, _SAYS = "aside-problems", "aside-says"
_FIRST = ("place", "kind", "happened_at")
_LONG = ("note", "fallback", "reason")
"""Fields that hold sentences, and so the whole width."""
_KEY_SAYS = {True: "a new key: another report stands under the one it was sent with", False: ""}


def in_brief(item: SetAside) -> str:
    """An item in a list: its number, what it was to be, and where."""
    fields = fields_of(item)
    return f"{item.number:,}: {words.commas([fields.get('kind', ''), fields.get('place', '')])}".rstrip(": ")


def form(item: SetAside) -> None:
    """One input a field; an emptied one is left out, and one more can be added."""
    wrong = _wrong(item)
    fields = fields_of(item)
    names = [*_FIRST, *(name for name in fields if name not in (*_FIRST, "key"))]
    with st.form(f"aside-{item.number}", border=True, enter_to_submit=False):
        if wrong.get(""):
            st.html(tag("p", text(words.sentence(wrong[""])), cls="pr-said", role="alert"))
        sides = st.columns(2, gap="small")
        for number, name in enumerate(names):
            with st.container() if name in _LONG else sides[number % 2]:
                st.text_input(name, value=fields.get(name, ""), key=_widget(item, name))
                _say(wrong, name)
        left, right = st.columns(2, gap="small")
        more = ["", *(name for name in FIELDS if name not in names)]
        left.selectbox("One more field", more, key=_widget(item, "+name"))
        right.text_input("Its value", key=_widget(item, "+value"))
        _say(wrong, *(name for name in wrong if name and name not in (*names, "reason")))
        said = f"Taken in under the key {fields['key']}"
        st.html(
            tag("p", text(words.sentence(words.commas([said, _KEY_SAYS[item.reason == "conflict"]]))), cls="pr-note")
        )
        args = (item, (*names, "+name", "+value"))
        st.form_submit_button("Take it in", type="primary", key=f"take-{item.number}", on_click=take, args=args)
        st.text_input("Or why it is dismissed", key=_widget(item, "reason"), max_chars=2_000)
        _say(wrong, "reason")
        st.form_submit_button("Dismiss", key=f"dismiss-{item.number}", on_click=dismiss, args=(item,))


def take(item: SetAside, names: tuple[str, ...]) -> None:
    """Take it in as it was put right; where that is refused, everything typed stays."""
    said = {name: str(st.session_state.get(_widget(item, name)) or "") for name in names}
    added = {said.pop("+name"): said.pop("+value")}
    raw = {name: value for name, value in {**said, **added}.items() if name and value.strip()}
    _settle(item, "taken in", raw={**raw, "key": fields_of(item)["key"]})


def dismiss(item: SetAside) -> None:
    """Dismiss it, with a reason."""
    _settle(item, "dismissed", reason=str(st.session_state.get(_widget(item, "reason")) or ""))


def says() -> str:
    """What was settled last."""
    return str(st.session_state.get(_SAYS, ""))


def _settle(item: SetAside, did: str, *, raw: Mapping[str, object] | None = None, reason: str = "") -> None:
    st.session_state[_SAYS] = ""
    try:
        receipt = feed.current().settle(item, who.name(), raw=raw, reason=reason)
    except Refused as refused:
        st.session_state[_PROBLEMS] = (item.number, {each.field: each.says for each in refused.problems})
        return
    except NotAllowed as error:
        st.session_state[_PROBLEMS] = (item.number, {"": str(error)})
        return
    st.session_state.pop(_PROBLEMS, None)
    st.session_state[_SAYS] = f"Item {item.number:,} is {did}: number {receipt.seq:,} in the ledger."


def _wrong(item: SetAside) -> dict[str, str]:
    number, wrong = st.session_state.get(_PROBLEMS, (0, {}))
    return dict(wrong) if number == item.number else {}


def _say(wrong: Mapping[str, str], *names: str) -> None:
    for name in names:
        if name in wrong:
            st.html(tag("p", tag("b", text(name)), text(f" {wrong[name]}"), cls="pr-warn", role="alert"))


def _widget(item: SetAside, name: str) -> str:
    return f"aside-{item.number}-{name}"
