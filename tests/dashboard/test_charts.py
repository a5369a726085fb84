"""The morning chart and a place's day: the marks that are drawn, and that no label stands in the plot."""

from typing import Any

from dashboard.charts import morning
from dashboard.drawing import Spec
from dashboard.place_day_chart import place_day
from tests.builders import a_count, a_full_opening, a_step, after, an_interruption, before, clock, the_end
from tests.dashboard.a_board import a_board, a_forecast

MINUTE = 60_000


def shown(chart: Spec, row: int, kind: str) -> list[dict[str, Any]]:
    """The marks of one row: spots, spans, edges or openings."""
    return [value for value in chart["datasets"][kind] if value["row"] == row]


def given(chart: Spec, name: str) -> Any:
    """What stands on an edge of the chart: names, notes, ticks, heads."""
    return next(each["value"] for each in chart["params"] if each["name"] == name)


def note(chart: Spec, name: str) -> str:
    """The words at the right of the row with this name."""
    return str(given(chart, "notes")[given(chart, "names").index(name)])


def wall(text: str) -> int:
    hours, minutes = map(int, text.split(":"))
    return 1_793_664_000_000 + (hours * 60 + minutes) * MINUTE


def test_a_dot_is_a_step_done_and_a_ring_a_step_overdue() -> None:
    chart = morning(a_board(a_step("staffed", before(50)), now=clock("05:36")))
    spots = shown(chart, given(chart, "names").index("Mill Creek School"), "spots")
    assert [(spot["says"], spot["at"], spot["filled"]) for spot in spots] == [
        ("Staffed: done, 05:10:00", wall("05:10"), "#0072B2"),
        ("Site ready: due and not done, 05:30:00", wall("05:30"), "transparent"),
    ]


def test_each_place_has_its_own_opening_rule() -> None:
    chart = morning(a_board())
    rules = dict(zip(given(chart, "names"), (rule["at"] for rule in chart["datasets"]["openings"]), strict=True))
    assert rules == {"Mill Creek School": wall("06:00"), "Grange Hall": wall("06:00"), "Court House": wall("07:00")}


def test_names_stand_left_and_words_right_of_the_plot_where_no_rule_runs() -> None:
    chart = morning(a_board(now=before(20)))
    assert note(chart, "Mill Creek School") == "Nothing heard, first step was due 05:15"
    axes = [layer["encoding"]["y"]["axis"] for layer in chart["layer"] if "y" in layer["encoding"]]
    sides = {axis["orient"]: axis for axis in axes if axis}
    assert sides["left"]["labelExpr"] == "names[datum.value]"
    assert sides["right"]["labelExpr"] == "notes[datum.value]"
    assert all(axis["labelLimit"] == 0 and axis["labelOverlap"] is False for axis in sides.values())


def test_two_heads_are_turned_away_from_each_other() -> None:
    chart = morning(a_board(now=before(3)))
    assert given(chart, "above") == [wall("05:57"), wall("06:00")]
    assert given(chart, "heads") == {str(wall("05:57")): "now 05:57", str(wall("06:00")): "opens 06:00"}
    assert given(chart, "before") == wall("05:57")


def test_times_below_are_full_quarters_within_the_window() -> None:
    chart = morning(a_board(now=before(20)))
    ticks = given(chart, "ticks")
    assert ticks[0] >= given(chart, "begins")
    assert ticks[-1] <= given(chart, "ends")
    assert {tick % (15 * MINUTE) for tick in ticks} == {0}
    assert 4 <= len(ticks) <= 10


def test_the_form_is_the_same_for_every_board() -> None:
    one, other = morning(a_board(now=before(20))), morning(a_board(*a_full_opening(), now=after(40)))
    assert one["layer"] == other["layer"]
    assert one["datasets"] != other["datasets"]


def test_a_places_day_has_a_row_a_step_and_rows_for_counts_interruptions_and_cases() -> None:
    board = a_board(
        *a_full_opening(opened_at=after(4)),
        an_interruption("stopped", after(20), exception="no-power"),
        the_end(after(41), exception="no-power"),
        a_count(after(60), public_counter=41, in_line=1),
        now=after(65),
    )
    chart = place_day(board, "P014")
    assert note(chart, "Open") == "done 06:04, 4 min after it was due"
    assert note(chart, "Counts") == "41 ballots, 1 person in line, at 07:00"
    assert note(chart, "Voting stopped") == "06:20 to 06:41, 21 min"
    assert note(chart, "No power") == "cleared, 21 min"
    (bar,) = shown(chart, given(chart, "names").index("Voting stopped"), "spans")
    assert (bar["at"], bar["until"]) == (wall("06:20"), wall("06:41"))


def test_a_step_half_done_says_on_how_many_devices() -> None:
    zero = a_step("zero-report", before(16), device="SC-0141", public_counter=0)
    chart = place_day(a_board(zero, now=before(5)), "P014")
    assert note(chart, "Zero report") == "was due 05:45, 10 min ago, 1 of 2 devices"


def test_every_mark_of_a_morning_lies_within_the_plot_whatever_the_hour() -> None:
    late = a_full_opening("P016", clock("08:40"))
    for now in ("05:40", "07:10", "09:30", "20:00"):
        chart = morning(
            a_board(*a_full_opening("P015"), a_step("closed", clock("19:01"), place="P015"), *late, now=clock(now))
        )
        for spot in chart["datasets"]["spots"]:
            assert given(chart, "begins") <= spot["at"] <= given(chart, "ends")


STAFFED = tuple(a_step("staffed", before(44), place=place) for place in ("P014", "P015"))
AHEAD = (
    a_forecast("P014", "06:35", "06:55", "08:20", 0.97),
    a_forecast("P015", "06:00", "06:00", "06:03", 0.1),
)


def test_late_is_seen_as_a_band_right_of_the_rule_before_it_has_happened() -> None:
    board = a_board(*STAFFED, now=before(27), forecasts=AHEAD)
    chart = morning(board)
    row = given(chart, "names").index("Mill Creek School")
    (band,) = shown(chart, row, "spans")
    assert (band["at"], band["until"], band["colour"]) == (wall("06:35"), wall("08:20"), "#D55E00")
    assert [spot["at"] for spot in shown(chart, row, "spots")][-1] == wall("06:55")
    assert note(chart, "Mill Creek School") == "Likely 06:55 (06:35 to 08:20)"
    (faint,) = shown(chart, given(chart, "names").index("Grange Hall"), "spans")
    assert faint["strength"] < 0.2 < band["strength"]


def test_every_band_and_its_middle_lie_within_the_plot() -> None:
    for now in (before(44), before(5), after(30), after(60)):
        board = a_board(*STAFFED, now=now, forecasts=AHEAD)
        for chart in (morning(board), place_day(board, "P014")):
            begins, ends = given(chart, "begins"), given(chart, "ends")
            marks = [value for spot in chart["datasets"]["spots"] for value in (spot["at"],)]
            marks += [value for span in chart["datasets"]["spans"] for value in (span["at"], span["until"])]
            assert wall("08:20") in marks
            assert begins <= min(marks) <= max(marks) <= ends


def test_a_place_open_already_has_no_band() -> None:
    chart = morning(a_board(*a_full_opening(), now=after(4), forecasts=AHEAD))
    assert {span["colour"] for span in shown(chart, given(chart, "names").index("Mill Creek School"), "spans")} == {
        "#0072B2"
    }


def test_a_places_day_says_when_it_will_likely_open() -> None:
    chart = place_day(a_board(*STAFFED, now=before(27), forecasts=AHEAD), "P014")
    assert note(chart, "Open") == "due 06:00, likely 06:55 (06:35 to 08:20)"


def test_what_is_read_from_afar_is_drawn_as_much_larger() -> None:
    board = a_board(*STAFFED, now=before(27), forecasts=AHEAD)
    near, far = (morning(board, large=large)["datasets"]["spans"] for large in (False, True))
    assert all(wide["thick"] > 2 * narrow["thick"] for narrow, wide in zip(near, far, strict=True))
