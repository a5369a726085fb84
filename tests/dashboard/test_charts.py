"""The morning chart and a place's day: the marks that are drawn, and that no label stands in the plot."""

import json
from typing import Any

from dashboard.charts import morning
from dashboard.place_day_chart import place_day
from tests.builders import a_count, a_full_opening, a_step, after, an_exception, an_interruption, before, clock, the_end
from tests.dashboard.a_board import a_board

MINUTE = 60_000


def values(chart: Any) -> list[dict[str, Any]]:
    """Every value of every layer."""
    written = json.loads(chart.to_json())
    sets = [*written.get("datasets", {}).values(), *(layer["data"].get("values", []) for layer in written["layer"])]
    return [value for each in sets for value in each]


def axes(chart: Any) -> list[dict[str, Any]]:
    layers = json.loads(chart.to_json())["layer"]
    both = [layer["encoding"].get(side, {}).get("axis") for layer in layers for side in ("x", "y")]
    return [axis for axis in both if axis]


def wall(text: str) -> int:
    hours, minutes = map(int, text.split(":"))
    return 1_793_664_000_000 + (hours * 60 + minutes) * MINUTE


def test_a_dot_is_a_step_done_and_a_ring_a_step_overdue() -> None:
    board = a_board(a_step("staffed", before(50)), now=clock("05:36"))
    marks = [value for value in values(morning(board)) if value.get("row") == "P014" and "shape" in value]
    done = [value for value in marks if "done, 05:10:00" in value["says"]]
    assert [(mark["at"], mark["filled"]) for mark in done] == [(wall("05:10"), "#0072B2")]
    missing = [value for value in marks if "due and not done" in value["says"]]
    assert [(mark["at"], mark["filled"]) for mark in missing] == [(wall("05:30"), "transparent")]


def test_each_place_has_its_own_opening_rule() -> None:
    rules = {value["row"]: value["at"] for value in values(morning(a_board())) if value.get("says", "")[:5] == "opens"}
    assert rules == {"P014": wall("06:00"), "P015": wall("06:00"), "P016": wall("07:00")}


def test_names_stand_left_and_words_right_of_the_plot_where_no_rule_runs() -> None:
    sides = {axis["orient"]: axis for axis in axes(morning(a_board(now=before(20))))}
    assert "Mill Creek School" in sides["left"]["labelExpr"]
    assert "Nothing heard, first step was due 05:15" in sides["right"]["labelExpr"]
    assert all(axis["labelLimit"] == 0 and axis["labelOverlap"] is False for axis in sides.values())


def test_two_heads_that_would_meet_are_turned_away_from_each_other() -> None:
    near = {axis["orient"]: axis for axis in axes(morning(a_board(now=before(3))))}["top"]
    assert near["values"] == [wall("05:57"), wall("06:00")]
    assert near["labelAlign"] == {
        "condition": {"test": f"datum.value == {wall('05:57')}", "value": "right"},
        "value": "left",
    }


def test_markup_in_a_name_is_text() -> None:
    board = a_board(an_exception("other", after(1), note="</script><b>"), now=after(2))
    assert "</script>" in json.dumps(values(morning(board)))  # data, drawn by the chart as letters


def test_a_places_day_has_a_row_a_step_and_rows_for_counts_interruptions_and_cases() -> None:
    board = a_board(
        *a_full_opening(opened_at=after(4)),
        an_interruption("stopped", after(20), exception="no-power"),
        the_end(after(41), exception="no-power"),
        a_count(after(60), public_counter=41, in_line=1),
        now=after(65),
    )
    right = {axis["orient"]: axis for axis in axes(place_day(board, "P014"))}["right"]["labelExpr"]
    notes = json.loads(right[1 : right.index(")[")])
    assert notes["step open"] == "done 06:04, 4 min after it was due"
    assert notes["counts"] == "41 ballots, 1 person in line, at 07:00"
    assert any(note == "06:20 to 06:41, 21 min" for note in notes.values())
    assert notes["case P014.no-power"] == "cleared, 21 min"


def test_a_step_half_done_says_on_how_many_devices() -> None:
    zero = a_step("zero-report", before(16), device="SC-0141", public_counter=0)
    right = {axis["orient"]: axis for axis in axes(place_day(a_board(zero, now=before(5)), "P014"))}["right"][
        "labelExpr"
    ]
    assert json.loads(right[1 : right.index(")[")])["step zero-report"] == "was due 05:45, 10 min ago, 1 of 2 devices"
