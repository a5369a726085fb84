"""A page opened as at a time: `?at=2026-11-03T06:40:00-06:00&view=known` (or `happened`) in its address."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from urllib.parse import urlencode

import streamlit as st

from county.domain.both_orders import View
from county.domain.moments import parse_moment, write_moment
from county.domain.picture import Picture
from county.forecasting import NONE, Forecasts
from dashboard import feed, words
from dashboard.board_now import Board
from dashboard.markup import Markup, tag, text

_LOST_PLUS = re.compile(r" (\d\d:\d\d)$")
_IN_WORDS = {View.KNOWN: "as the office knew it then", View.HAPPENED: "as it happened, as far as is known today"}
_OTHER = {View.KNOWN: View.HAPPENED, View.HAPPENED: View.KNOWN}


@dataclass(frozen=True, slots=True)
class Then:
    """A moment (aware UTC) and what is looked at: what was known, or what had happened."""

    at: datetime
    view: View


def asked() -> Then | None:
    """What this page's address asks for; None for now, also where what it says is no time."""
    said = str(st.query_params.get("at", ""))
    try:
        # a plus sign in an address that was not written as one arrives as a space
        at = parse_moment(_LOST_PLUS.sub(r"+\1", said)) if said else None
    except ValueError:
        at = None
    view = st.query_params.get("view", View.KNOWN)
    return Then(at, View(view) if view in tuple(View) else View.KNOWN) if at else None


def board_of(then: Then, newest: Board) -> Board:
    """The county as every page draws it, at that moment; what had not come yet is now."""
    at = min(then.at, newest.as_of)
    key = ("then", at, then.view)
    if key not in newest.made:
        picture = feed.current().replaying.picture(at, then.view)
        received = [entry.received_at for state in picture.places.values() for entry in state.day.told]
        newest.made[key] = replace(
            newest,
            as_of=at,
            plan=picture.plan,
            roster=picture.roster,
            places=picture.everywhere(at),
            every_case=picture.cases(),
            last_received_at=max(received, default=None),
            dispatch=None,
            forecasts=_forecasts(picture, then.view, at),
            made={},
            then=then.view,
            moment_word="then",
        )
    return newest.made[key]  # type: ignore[return-value]


def _forecasts(picture: Picture, view: View, at: datetime) -> Forecasts:
    """What was to be foreseen from what was known then; as it happened nothing is foreseen."""
    return feed.current().foreseeing.as_known(picture, at) if view is View.KNOWN else NONE


def as_asked(newest: Board) -> Board:
    """The board of the moment that the address asks for, or the newest."""
    then = asked()
    if then is None and st.query_params.get("at"):
        st.html(tag("p", text("The time in the address cannot be read, so this is now."), cls="pr-said", role="alert"))
    return board_of(then, newest) if then else newest


def only_now(newest: Board) -> Board:
    """The newest board, and that this page shows no other moment where one was asked for."""
    if st.query_params.get("at"):
        st.html(
            tag("p", text("This page is of now, whatever time its address asks for."), cls="pr-then", role="status")
        )
    return newest


def instead_of_fresh(board: Board) -> Markup:
    """What stands where a page of now says how fresh it is."""
    at, zone = words.clock(board.as_of, board.zone, seconds=True), words.zone_word(board.zone, board.as_of)
    election = f"{board.plan.election.county}, {board.plan.election.name}"
    moment = tag("p", text("as at "), tag("b", text(at)), text(f" {zone}"))
    return tag("div", moment, tag("p", text(election)), cls="pr-fresh")


def banner(board: Board) -> Markup:
    """That this is not now, which of the two views it is, and the ways to the other and to now; empty for now."""
    if board.then is None:
        return ""
    at = words.clock(board.as_of, board.zone, seconds=True)
    other = _OTHER[board.then]
    kept = {name: value for name, value in st.query_params.items() if name not in ("at", "view")}
    return tag(
        "p",
        tag("b", text(f"This is not now. It is {at}, {_IN_WORDS[board.then]}. ")),
        text("Nothing can be done here. "),
        _link(address_of(board.as_of, other, kept), f"See it {_IN_WORDS[other]}"),
        text(" · "),
        _link(f"?{urlencode(kept)}", "Back to now"),
        cls="pr-then",
        role="status",
    )


def address_of(at: datetime, view: View, more: Mapping[str, str] | None = None) -> str:
    """The end of an address that opens a page as at a moment."""
    return f"?{urlencode({'at': write_moment(at), 'view': view.value, **(more or {})})}"


def _link(address: str, says: str) -> Markup:
    return tag("a", text(says), href=address, target="_self")
