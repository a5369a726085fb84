"""Rehearsing from the board: a made-up morning in a ledger of its own, with its own board to look at."""

from collections.abc import Mapping

import streamlit as st

from county.domain.roles import Deed
from county.rehearsal.from_the_board import Asked, Running
from county.rehearsed import Result, results
from dashboard import layout, words
from dashboard.board_now import Board
from dashboard.markup import Markup, quiet, tag, text
from dashboard.set_up import rehearsals, standing

PART = "Rehearsal"
REGIMES: Mapping[str, str] = {
    "rough": "a rough day: one place in ten opens late",
    "common-cause": "a common cause: a third of one delivery route's places run late",
    "normal": "a normal day: one place in a hundred opens late",
}
SPEEDS: Mapping[float, str] = {
    0: "without waiting: the figures in a minute",
    60: "60 times as fast: the morning in about five minutes, with a board to work at",
    20: "20 times as fast: the morning in a quarter of an hour",
    1: "as fast as the day itself",
}
_SHOWN = 5


def show(board: Board) -> None:
    """How to rehearse, how far the one under way has come, and what came of those before."""
    layout.section("Rehearsal", "a made-up morning of this county; nothing of it enters this ledger, nobody is told")
    standing.say(PART)
    running = rehearsals.under_way()
    if running and running.going_on:
        _going_on(board)
    else:
        _ask(board)
        if running and running.result() is None:
            st.html(
                tag("p", text(f"The rehearsal ended without a result: {running.said()}"), cls="pr-said", role="alert")
            )
    _earlier(board)


def _ask(board: Board) -> None:
    places = len(board.roster.places)
    if not places:
        layout.note("The roster has no places yet; a rehearsal is of the county's own places.")
        return
    with st.form("rehearsal", border=True):
        left, right = st.columns(2, gap="medium")
        left.radio("What sort of day?", list(REGIMES), format_func=REGIMES.__getitem__, key="rehearsal-regime")
        left.number_input("How many places?", 1, places, places, key="rehearsal-places")
        right.radio("How fast?", list(SPEEDS), format_func=SPEEDS.__getitem__, key="rehearsal-speed")
        st.form_submit_button("Start the rehearsal", type="primary", key="rehearsal-start", on_click=_start)


def _start() -> None:
    said = st.session_state
    asked = Asked(int(said["rehearsal-places"]), float(said["rehearsal-speed"]), str(said["rehearsal-regime"]))

    def work() -> str:
        rehearsals.start(standing.now_office(), asked)
        return ""

    standing.do(PART, Deed.SET_UP, work)


@st.fragment(run_every=1.0)
def _going_on(board: Board) -> None:
    """How far it has come, every second, until it ends."""
    running = rehearsals.under_way()
    if running is None:
        return
    if not running.going_on:
        st.html(tag("p", text("The rehearsal has ended."), cls="pr-verdict", role="status"))
        result = running.result()
        if result:
            st.html(tag("p", text(says(result)), cls="pr-verdict"))
        return
    progress = running.progress()
    st.progress(progress.sent / progress.total if progress.total else 0.0, text=_far(board, running))
    if progress.board:
        link = tag("a", text(progress.board), href=progress.board, target="_blank", rel="noopener")
        st.html(
            tag(
                "p",
                text("Its own board, on the machine where this one runs and marked as a rehearsal; sign in as here: "),
                link,
            )
        )
    st.button("Stop the rehearsal", key="rehearsal-stop", on_click=_stop)


def _stop() -> None:
    def work() -> str:
        rehearsals.stop()
        return "The rehearsal is stopped, with all its programs."

    standing.do(PART, Deed.SET_UP, work)


def _far(board: Board, running: Running) -> str:
    progress, places = running.progress(), words.counted(running.asked.places, "place")
    if progress.at is None:
        return f"Setting up a rehearsal with {places}, in a ledger of its own …"
    at = words.clock(progress.at, board.zone)
    return f"{at} on the made-up day of {places}: {progress.sent:,} of {progress.total:,} reports sent"


def says(result: Result) -> str:
    """What came of a rehearsal, in a sentence or two."""
    if not result.entries or not result.heard:
        return words.sentence(result.says or "Nothing was sent")
    late = f", {result.late:,} late" if result.late else ""
    end = "" if result.whole else f" {words.sentence(result.says or 'It did not come to its end')}"
    chain = "the ledger's chain holds" if not result.broken else f"the ledger's chain is broken at {result.broken:,}"
    return (
        f"{result.heard:,} of {words.counted(result.places, 'place')} heard from, {result.opened:,} opened{late}; "
        f"{words.counted(result.cases, 'case')}, {result.stopped:,} with voting stopped; "
        f"{words.counted(result.told, 'notice')}; {words.counted(result.set_aside, 'report')} set aside; {chain}.{end}"
    )


def _earlier(board: Board) -> None:
    every = results(standing.office_of(board).settings)[:_SHOWN]
    if not every:
        return
    layout.section("Rehearsed before", "newest first")
    st.html(tag("ul", *(_line(board, result) for result in every), cls="pr-told"))


def _line(board: Board, result: Result) -> Markup:
    begun = f"{result.begun_at.astimezone(board.zone):%Y-%m-%d %H:%M}"
    return tag("li", tag("b", text(f"{begun}, {result.regime.replace('-', ' ')} day. ")), quiet(says(result)))
