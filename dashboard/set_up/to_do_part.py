"""What is still to be done, worst first, as a list that a person can work down."""

from collections.abc import Sequence

import streamlit as st

from county.domain.readiness import Thing, Weight, Where
from dashboard import layout
from dashboard.markup import Markup, mark, quiet, tag, text

FEW = 4
_IN = {where: "the settings" if where is Where.SETTINGS else where.value for where in Where}
_MARK = {Weight.STOPS: "stopped", Weight.LOOK: "at-risk", Weight.HINT: "record"}
_WORD = {Weight.STOPS: "stops the day", Weight.LOOK: "to look at", Weight.HINT: "a hint"}


def show(things: Sequence[Thing]) -> None:
    """The whole list, or that nothing is left."""
    if not things:
        layout.empty("Nothing is left to do.", "Look again after the roster or the plan have changed.")
        return
    st.html(listed(things))


def listed(things: Sequence[Thing], *, with_part: bool = True) -> Markup:
    """Each thing with what was found, what to do, and in which part of this page."""
    return tag("ul", *(_thing(thing, with_part) for thing in things), cls="pr-todo")


def _thing(thing: Thing, with_part: bool) -> Markup:
    check = thing.check
    head = tag(
        "p",
        mark(_MARK[check.weight]),
        tag("b", text(thing.says)),
        text(" "),
        quiet(_WORD[check.weight]),
    )
    where = tag("span", text(f" In {_IN[check.where]}."), cls="pr-quiet") if with_part else ""
    source = quiet(f" {check.source}.") if check.source else ""
    return tag("li", head, tag("p", text(check.mend), where, source, cls="pr-mend"), _found(thing.found))


def _found(found: Sequence[str]) -> Markup:
    first = tag("p", quiet("; ".join(found[:FEW])), cls="pr-mend")
    if len(found) <= FEW:
        return first
    more = tag("summary", text(f"All {len(found):,}"))
    return first + tag("details", more, tag("p", quiet("; ".join(found))), cls="pr-mend")
