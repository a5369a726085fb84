"""Where do voters wait, who runs out?"""

import streamlit as st

from dashboard import going, layout, shown, then, words
from dashboard.board_now import Board
from dashboard.feed import once
from dashboard.lines import listed, said, table
from dashboard.lines.found import Line, Paper, counted, counted_papers, papers
from dashboard.lines.found import lines as found_lines

HOW = (
    "Estimated: people in line at the last count by the pace at which voters are served (Little's law, 1961). The bar "
    "is where the wait lies in eight cases of ten, as sure as the pace is; the stroke in it is the middle."
)
STYLES = (
    "Ballot styles are not known here: a total that lasts may hide a style that runs out, so ask the place. A bar ends "
    "when they are gone, in eight cases of ten within its dark end, at the faster of the day's pace and the last "
    "counts'; the rule is closing and the line."
)


def lines(board: Board) -> None:
    """Waits and ballots, worst first, and the places of which nothing is known."""
    layout.heading(board, once(said.sentence, board))
    if not board.places:
        layout.empty("The roster is empty.", "Load it with: python -m county roster load FILE...")
        return
    number = counted(once(found_lines, board))
    if number[Line.NOT_YET] + number[Line.OVER] == len(board.places):
        nobody_votes(over=number[Line.OVER] > 0)
    else:
        left, right = st.columns([1, 1], gap="medium")
        with left:
            waits(board)
            not_known(board)
        with right:
            ballots(board)
    as_a_table(board)


def nobody_votes(*, over: bool) -> None:
    """Before the first opening and after the last voter there is nothing to show."""
    if over:
        layout.empty("Nobody is in line any more.", "What was counted through the day stands with each place.")
    else:
        layout.empty("Nothing has been counted yet.", "Waits can be told from a place's second count on.")


def waits(board: Board) -> None:
    """The longest waits against the county's limit."""
    number = counted(once(found_lines, board))
    known = number[Line.LONG] + number[Line.WITHIN]
    limit = board.plan.limits.wait_minutes
    layout.section("Waits", f"the county acts at {limit} min" if known else "none is known yet")
    drawn = once(listed.line_list, board)
    if drawn:
        st.html(drawn)
    layout.note(once(listed.lines_not_shown, board))
    layout.note(HOW if drawn else "")


def not_known(board: Board) -> None:
    """The places without a current count: never shown as good."""
    unknown = counted(once(found_lines, board))[Line.NOT_KNOWN]
    layout.section("Not known", words.counted(unknown, "place") if unknown else "every place has a current count")
    if unknown:
        rows = once(listed.not_known_rows, board)
        shown.rows(rows, key="not-known", label="Places whose wait is not known", kind="silent", chosen=going.to_place)
        more = unknown - len(rows)
        layout.note(f"The {len(rows)} longest without a count are shown; {more:,} more." if more > 0 else "")


def ballots(board: Board) -> None:
    """When ballots run out against closing."""
    number = counted_papers(once(papers, board))
    known = sum(number[each] for each in (Paper.OUT, Paper.SHORT, Paper.BEFORE_CLOSING, Paper.LASTS))
    ahead = words.span(board.plan.limits.ballots_ahead)
    beside = f"the county acts once they would be gone within {ahead}" if known else "nothing is known yet"
    layout.section("Ballots", beside)
    if known:
        st.html(once(listed.paper_list, board))
    layout.note(once(listed.papers_not_shown, board))
    layout.note(STYLES)


def as_a_table(board: Board) -> None:
    """Every place in words."""
    every = st.expander("Every place as a table", on_change="rerun", key="lines-table")
    if every.open:
        every.dataframe(once(table.frame, board), hide_index=True, key="lines-frame", height=420)


layout.live(lines, then.as_asked)
