"""What the review draws: the response chart, the strip behind the slider, and tables that stop before their end."""

from dataclasses import replace
from datetime import timedelta

from county.domain.effects import Effect
from county.domain.entries import Entry
from county.domain.milestones import Milestone
from county.domain.picture import Picture
from county.domain.plan import Target
from county.domain.record.against_targets import Row, response_rows
from county.domain.replay import Replay
from county.domain.response import groupings
from county.domain.roster import Place
from dashboard.review import day, response_chart
from dashboard.review.ended import at_its_end
from dashboard.review.moment import Moment, counts, map_of, roll
from dashboard.review.table import cells, table
from dashboard.theme import BLUE, VERMILLION
from tests.builders import CLOSES, a_full_opening, a_plan, a_roster, a_step, after, an_action, an_exception
from tests.dashboard.a_board import a_board

PLAN = replace(a_plan(), targets={Effect.IMPAIRED: Target(acknowledge=5), Effect.STOPPED: Target(acknowledge=3)})


def rows(*entries: Entry, by: str = "effect") -> tuple[Row, ...]:
    picture = Picture.of(a_roster(), PLAN, entries)
    group = groupings(picture.roster, PLAN)[by]
    return response_rows(group, picture.cases(), Milestone.ACKNOWLEDGED, PLAN, after(60))


def values(spec: dict[str, object], layer: int) -> list[dict[str, object]]:
    layers = spec["layer"]
    assert isinstance(layers, list)
    found: list[dict[str, object]] = layers[layer]["data"]["values"]
    return found


def test_a_curve_steps_down_from_all_to_those_not_reached_and_says_where_some_still_waited() -> None:
    told = rows(
        an_exception("scanner-jam", after(0), effect="impaired"),
        an_exception("scanner-jam", after(0), place="P015", effect="impaired"),
        an_action("P014.scanner-jam", "acknowledge", after(4)),
    )
    spec = response_chart.drawn(told, ["Voting impaired"])
    targets, curve, ends = (values(spec, layer) for layer in range(3))
    assert [(each["minutes"], each["share"]) for each in curve] == [(0.0, 1.0), (4.0, 0.5), (15.0, 0.5)]
    assert [(each["minutes"], each["says"]) for each in targets] == [(5, "target 5 min, Voting impaired")]
    assert [each["share"] for each in ends] == [0.5]


def test_groups_with_several_targets_have_no_rule_and_only_the_largest_few_are_drawn() -> None:
    kinds = ("scanner-jam", "no-power", "long-line", "drift", "fire", "other")
    told = rows(*(an_exception(kind, after(n), effect="impaired") for n, kind in enumerate(kinds)), by="kind")
    spec = response_chart.drawn(told, [row.group for row in told])
    assert len({each["group"] for each in values(spec, 1)}) == response_chart.MOST
    mixed = rows(
        an_exception("other", effect="impaired"), an_exception("other", place="P015", effect="stopped"), by="kind"
    )
    assert values(response_chart.drawn(mixed, ["other"]), 0) == []


def test_without_cases_there_is_an_empty_chart() -> None:
    assert values(response_chart.drawn((), []), 1) == []


def test_the_strip_is_of_openings_learned_minutes_later_and_the_slider_begins_where_it_is_highest() -> None:
    board = a_board(
        a_step("open", after(0), received_at=after(40)),
        a_step("open", after(10), place="P015", received_at=after(40)),
        a_step("open", after(62), place="P016", received_at=after(63)),
        now=after(300),
    )
    strip = day.behind(board)
    assert max(share for _, share in strip) == 1.0
    assert day.furthest_behind(board) == after(10)
    begins, ends = day.ends(board)
    behind = {begins + (ends - begins) * at: share for at, share in strip}
    near = min(behind, key=lambda at: abs(at - after(65)))
    assert behind[near] == 0.0, "a minute is no delay worth saying"


def test_where_every_opening_was_known_at_once_the_slider_begins_a_little_after_opening() -> None:
    board = a_board(*a_full_opening(), now=after(300))
    assert day.behind(board) == []
    assert day.furthest_behind(board) == after(10)


def test_a_record_looked_at_weeks_later_ends_some_hours_after_the_last_closing() -> None:
    board = at_its_end(a_board(*a_full_opening(), now=CLOSES + timedelta(days=30)))
    assert board.as_of == CLOSES + timedelta(hours=5), "P016 closes an hour later than the others"
    assert board.moment_word == "end"
    today = a_board(*a_full_opening(), now=after(60))
    assert at_its_end(today) is today


def test_counts_and_maps_show_both_sides_and_name_the_places_that_stood_otherwise() -> None:
    places = tuple(replace(p, latitude=41.0 + n, longitude=-93.0) for n, p in enumerate(a_roster().places))
    roster = a_roster(places=(*places, Place("P017", "Nowhere")))
    opened = a_step("open", after(5), received_at=after(50))
    replay = Replay(roster, a_plan(), [a_step("staffed", after(-40)), opened])
    moment = Moment(after(20), replay.everywhere(after(20)))
    board = a_board(opened, roster=roster, now=after(60))
    said = counts(moment)
    assert "Late" in said
    assert "+1" in said
    assert "-1" in said
    known, was = (map_of(moment, board, side) for side in ("known", "happened"))
    on_it = roll(board)
    assert len(on_it.places) == 3, "a place without coordinates is not on the map"
    for drawn, standing in ((known, "late"), (was, "open")):
        stood, named = drawn["stood"], drawn["named"]
        assert isinstance(stood, list)
        assert isinstance(named, list)
        assert sorted(number for _, numbers in stood for number in numbers) == [0, 1, 2]
        number = on_it.numbers["P014"]
        assert (number in dict(stood)[standing], number in named) == (True, True)
        assert drawn["roll"] == on_it.name


def test_a_long_table_says_how_many_rows_it_leaves_out() -> None:
    drawn = table(("Place", "Minutes"), [cells(f"P{n}", n) for n in range(7)], label="Places", most=5)
    assert drawn.count("<tr>") == 6
    assert "The first 5; 2 other rows: in the exported record." in drawn
    assert cells("a", None, 1_200) == ["a", "", "1,200"]


def test_an_effect_has_its_own_colour_whichever_is_the_largest() -> None:
    (told,) = rows(an_exception("other", effect="impaired"))
    for order in (tuple(Effect), tuple(Effect)[::-1]):
        spec = response_chart.drawn([replace(told, group=effect.value) for effect in order], list(order))
        layers = spec["layer"]
        assert isinstance(layers, list)
        scale = layers[1]["encoding"]["color"]["scale"]
        colours = dict(zip(scale["domain"], scale["range"], strict=True))
        assert (colours[Effect.STOPPED], colours[Effect.AT_RISK]) == (VERMILLION, BLUE)
