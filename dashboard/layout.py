"""What every page has: its sentence first, how fresh it is, what it is not, and its quiet cautions last."""

from collections.abc import Callable, Sequence

import streamlit as st

from county.domain.roles import Deed
from dashboard import feed, sentences, then, who, words
from dashboard.board_now import Board
from dashboard.elements import element
from dashboard.markup import Markup, mark, number, tag, text

REDRAW_SECONDS = 30
CAUTIONS = (
    words.CALL_911,
    "Operational reports, not results.",
    "Typed by people. Not connected to voting equipment, pollbooks or the voter file.",
    "Count people, do not name them. What staff write may become public.",
    "Local law and county counsel decide; the county's sheet wins over this board.",
    "Two people at every seal and counter. Two people lift; no power lead where people walk, none into another.",
    "Corrections are added; nothing is deleted.",
)
_freshness = element("freshness")

Draw = Callable[[Board], None]


@st.fragment(run_every=REDRAW_SECONDS)
def live(draw: Draw, shown: Callable[[Board], Board] = then.only_now, *, to_its_end: bool = True) -> None:
    """Draw a page from the newest board, again whenever there is a newer one; nothing outside it is touched.

    `shown` turns the newest board into the one to show: a page that can be opened as at a time gives `then.as_asked`.
    A page that goes on below, `to_its_end` being false, ends with the cautions itself.
    """
    who.person()
    board = feed.newest()
    if board is None:
        st.html(tag("p", text("Reading the ledger. The board appears when every report has been read."), cls="pr-wait"))
        _freshness_of_nothing()
        return
    draw(shown(board))
    if to_its_end:
        cautions()


def cautions() -> None:
    """The quiet cautions, last on every page."""
    st.html(tag("p", *(tag("span", text(each)) for each in CAUTIONS), cls="pr-cautions"))


def heading(board: Board, sentence: str) -> None:
    """The page's answer in words, beside how fresh it is."""
    _strips(board)
    left, right = st.columns([2.9, 1], gap="medium")
    left.html(_sentence(sentence))
    with right:
        _fresh(board)
        st.html(_who())
    danger(board)


def heading_on_the_wall(board: Board, sentence: str) -> None:
    """The same, one below the other."""
    _strips(board)
    st.html(_sentence(sentence))
    _fresh(board)
    danger(board)


def danger(board: Board) -> None:
    """The 911 line, loud, on every page for as long as danger is reported anywhere."""
    says = sentences.danger(board)
    # in a container that is always there: what is below stays in its place, and whoever types there stays in the field
    with st.container():
        if says and not board.then:
            st.html(tag("p", text(f"{says} "), tag("b", text(words.CALL_911)), cls="pr-911", role="alert"))


def _strips(board: Board) -> None:
    """That this is not the real day, or not now: in a container too, because a plan can become the real day's."""
    with st.container():
        for strip in (what_it_is_not(board), then.banner(board)):
            if strip:
                st.html(strip)


def _sentence(sentence: str) -> Markup:
    return tag("h1", *(_struck_when_old(word) for word in sentence.split(" ")), cls="pr-sentence")


def _who() -> Markup:
    """Who is signed in here, and the way out."""
    here = who.person()
    says = "hand over or sign out" if who.may_do(Deed.HAND_OVER) else "sign out"
    way_out = tag("a", text(says), href="/sign-out", target="_self")
    return tag("p", tag("b", text(here.name)), text(f", {here.role} · "), way_out, cls="pr-who")


def _fresh(board: Board) -> None:
    if board.then:
        st.html(then.instead_of_fresh(board))
        return
    _freshness(
        key="fresh",
        data={
            "revision": board.revision,
            "now": board.as_of.timestamp(),
            "last": board.last_received_at.timestamp() if board.last_received_at else None,
            "zone": board.plan.election.zone,
            "zoneWord": words.zone_word(board.zone, board.as_of),
            "election": f"{board.plan.election.county}, {board.plan.election.name}",
        },
        on_revision_change=_draw_again,
    )


def section(title: str, beside: str = "", *, legend: Sequence[tuple[str, str, int]] = ()) -> None:
    """A heading within a page, beside it what one must know to read what follows: words, or shapes with theirs."""
    shapes = [
        tag("span", mark(of), text(f"{says} "), number(f"{count:,}"), cls="pr-legend") for of, says, count in legend
    ]
    st.html(tag("h2", text(title), tag("span", text(beside), *shapes, cls="pr-beside"), cls="pr-section"))


def note(says: str) -> None:
    """A quiet line, left out where there is nothing to say."""
    if says:
        st.html(tag("p", text(says), cls="pr-note"))


def sideways() -> None:
    """On a narrow screen, that a picture goes on at its right."""
    st.html(tag("p", text("Move the picture sideways to see the whole day."), cls="pr-narrow pr-note"))


def nothing(says: str) -> Markup:
    """What stands where a table has no rows."""
    return tag("p", text(says), cls="pr-note")


def empty(says: str, remedy: str) -> None:
    """Where there is nothing to show: what is missing, and how to bring it about."""
    st.html(tag("p", tag("b", text(says)), text(" "), tag("span", text(remedy), cls="pr-quiet"), cls="pr-wait"))


def what_it_is_not(board: Board) -> Markup:
    """Loud words where this is a rehearsal, or where the clock is not the real one; empty otherwise."""
    said = []
    if board.archive:
        said.append(tag("b", text("Archive. ")) + text(f"This is {board.archive}; it is only read. "))
    if board.plan.election.rehearsal:
        said.append(tag("b", text("Rehearsal. ")) + text("Nothing here is a real election. "))
    if not board.clock.real and not board.archive:
        pace = {0.0: "stands still", 1.0: "runs on"}.get(board.clock.speed, f"runs {board.clock.speed:g} times as fast")
        said.append(tag("b", text("Not the real clock: ")) + text(f"it was set and {pace}."))
    return tag("p", *said, cls="pr-not-real") if said else ""


def _struck_when_old(word: str) -> Markup:
    return tag("span", text(f"{word} "), cls="pr-number" if any(letter.isdigit() for letter in word) else "")


def _draw_again() -> None:
    """Nothing to do: that the number changed is enough for the fragment to run."""


def _freshness_of_nothing() -> None:
    _freshness(
        key="fresh",
        data={"revision": 0, "now": 0, "last": None, "zone": "UTC", "zoneWord": "", "election": ""},
        on_revision_change=_draw_again,
    )
