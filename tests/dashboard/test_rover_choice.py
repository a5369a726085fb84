"""Whom the board suggests, in a sentence; the others with their minutes, and why not the rest."""

from dataclasses import replace
from datetime import time

from county.domain.barred import barred_by_word
from county.domain.dispatch import suggest
from county.domain.dispatch_settings import DispatchSettings, Need
from county.domain.entries import Entry
from county.domain.roster import Place, Roster, Rover
from dashboard.board_now import Board
from dashboard.case_rows import open_cases
from dashboard.rover_choice import Choice, choice, expected_of
from tests.builders import a_plan, a_roster, after, an_action, an_exception
from tests.dashboard.a_board import a_board

WAYS = {("R01", "P014"): 9.0, ("R02", "P014"): 14.0, ("R03", "P014"): 30.0, ("R04", "P014"): 12.0}
ROVERS = (
    Rover("R01", "Ada Quillon", "West", skills=("power",), carries=("battery", "tape")),
    Rover("R02", "Ben Hale", "West", skills=("power",)),
    Rover("R03", "Cora Vant", "East", skills=("scanner",)),
    Rover("R04", "Dov Ell", "East", skills=("power",), ends=time(7, 10)),
)
ROSTER = a_roster(rovers=ROVERS, places=(replace(a_roster().places[0], zone="West"), *a_roster().places[1:]))
NAME = "P014.no-power"
OUT = an_exception("no-power", after(55))
NOW = after(60)


def board(*entries: Entry, roster: Roster = ROSTER, **settings: object) -> Board:
    plan = replace(a_plan(), dispatch=DispatchSettings(matrix=WAYS, **settings))  # type: ignore[arg-type]
    made = a_board(*entries, now=NOW, plan=plan, roster=roster)
    barred = barred_by_word(made.every_case)
    return replace(made, dispatch=suggest(made.every_case, roster, plan, plan.dispatch, NOW, barred=barred))


def the_choice(*entries: Entry, case: str = NAME, roster: Roster = ROSTER, **settings: object) -> Choice:
    made = board(*entries, roster=roster, **settings)
    return choice(made, made.case_by_id[case])


def test_the_nearest_that_can_is_suggested_with_its_reason_and_when_it_would_be_there() -> None:
    found = the_choice(OUT)
    assert found.suggested == "R01"
    assert found.says == (
        "Suggested: Ada Quillon. Nearest free rover with power skill, 9 min; next best 14. On site about 07:09."
    )
    assert found.expected == {"R01": after(69), "R02": after(74)}


def test_the_others_follow_soonest_first_and_of_the_rest_it_is_said_why_not() -> None:
    assert list(the_choice(OUT).names.values()) == [
        "Ada Quillon, suggested, 9 min, carries battery and tape",
        "Ben Hale, 14 min",
        "Cora Vant, without the skill",
        "Dov Ell, not before its shift ends",
    ]


def test_who_turned_it_down_is_said_to_have_and_another_is_suggested() -> None:
    found = the_choice(OUT, an_action(NAME, "cannot", after(57), rover="R01", note="flat tyre"))
    assert found.suggested == "R02"
    assert found.names["R01"] == "Ada Quillon, turned it down, carries battery and tape"


def test_of_another_zone_is_said_where_zones_are_kept() -> None:
    east = replace(ROVERS[1], zone="East")
    found = the_choice(OUT, roster=replace(ROSTER, rovers=(ROVERS[0], east)), keep_zones=True)
    assert found.names["R02"] == "Ben Hale, of another zone"


def test_what_is_to_be_known_of_every_suggestion_is_said_with_each() -> None:
    made = board(OUT)
    assert made.dispatch is not None
    told = replace(made, dispatch=replace(made.dispatch, remark="ways.csv cannot be read"))
    assert choice(told, told.case_by_id[NAME]).says.endswith(" On site about 07:09. Ways.csv cannot be read.")


def test_where_nobody_can_it_is_said_why() -> None:
    found = the_choice(OUT, roster=replace(ROSTER, rovers=ROVERS[2:3]))
    assert (found.suggested, found.says) == ("", "Nobody is suggested: no rover with power skill.")
    assert list(found.names) == ["R03"]


def test_where_nobody_is_usually_sent_the_desk_may_all_the_same() -> None:
    found = the_choice(an_exception("drift", after(50)), case="P014.drift")
    assert (found.suggested, found.says) == (
        "",
        "Nobody is usually sent for this; send somebody all the same if it helps.",
    )
    assert found.names["R01"] == "Ada Quillon, West, carries battery and tape"


def test_nobody_is_suggested_into_danger() -> None:
    need = {"fire": Need(10)}
    found = the_choice(an_exception("fire", after(50)), case="P014.fire", needs=need)
    assert found.says == "911 first. The board suggests nobody into danger; a person decides."
    assert the_choice(an_exception("fire", after(50)), case="P014.fire", needs=need, into_danger=True).suggested


def test_who_has_the_case_is_not_suggested_once_more_and_is_expected() -> None:
    made = board(OUT, an_action(NAME, "assign", after(58), rover="R02", expected_at="2026-11-03T13:14:00Z"))
    case = made.case_by_id[NAME]
    found = choice(made, case)
    assert (found.suggested, found.says) == ("", "The board would send nobody else.")
    assert expected_of(made, case) == after(74)
    assert open_cases(made, "")[0].who == "Ben Hale, about 07:14"


def test_before_the_first_suggestion_that_is_said_and_every_rover_can_be_chosen() -> None:
    made = replace(board(OUT), dispatch=None)
    found = choice(made, made.case_by_id[NAME])
    assert found.says == "Whom to send is still being worked out."
    assert set(found.names) == {"R01", "R02", "R03", "R04"}
    assert list(found.names)[:2] == ["R01", "R02"], "those of the place's own zone first"


def test_a_place_that_the_matrix_does_not_know_is_no_trouble() -> None:
    assert the_choice(OUT, roster=replace(ROSTER, places=(Place("P014", "Mill Creek School"),))).suggested
