"""The part of forecasts, laid out: what was said and came, how good it was by the time before the opening."""

import streamlit as st

from county.domain.record.forecast_scores import LEADS
from dashboard import feed, layout
from dashboard.board_now import Board
from dashboard.feed import once
from dashboard.review import calibration_chart, forecast_table, score_table
from dashboard.review.ended import at_its_end

USUAL_LEAD = 30


def foresight(board: Board) -> None:
    """What was forecast, what came, and whether it was better than saying the county's share of every place."""
    record, picture = at_its_end(board), feed.current().picture
    found = once(forecast_table.record, record, picture)
    layout.heading(board, forecast_table.sentence(found))
    how_good(record)
    layout.section("What was said, and what came", "a forecast is what was said before a place's own opening time")
    st.html(forecast_table.told(record, found) or layout.nothing("Nothing was said of any place."))
    layout.section("Late openings that nobody foresaw")
    st.html(forecast_table.unforeseen(record, found) or layout.nothing("None."))


def how_good(record: Board) -> None:
    """The scores, and for one time before the opening what was said against what came."""
    current = feed.current()
    scores = current.scored.scores(current.picture, record.as_of)
    lead = int(st.session_state.get("forecast-lead") or USUAL_LEAD)
    layout.section("How good they were", "the forecasts of every place, made again from what was known then")
    layout.note(score_table.sentence(scores, lead))
    st.html(score_table.by_lead(scores))
    layout.note(score_table.SCORE_IS)
    layout.section("Said against came", "on the slanted line what was said is what came; beside a point its places")
    st.segmented_control(
        "Said before opening",
        LEADS,
        default=USUAL_LEAD,
        format_func=lambda minutes: f"{minutes} min",
        key="forecast-lead",
        required=True,
    )
    rows = next((score.calibration for score in scores if score.lead_minutes == lead), ())
    left, right = st.columns([1.4, 1], gap="medium")
    with left, st.container(key="calibration"):
        if rows:
            chart = calibration_chart.drawn(rows)
            st.vega_lite_chart(chart, key="calibration-chart", alt="The chance that was said against the share late.")
    right.html(score_table.by_tenths(rows) if rows else layout.nothing("Nothing to hold against what came yet."))
