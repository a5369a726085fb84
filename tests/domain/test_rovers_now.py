"""Where rovers are and when they are free, from the cases as they were really folded."""

import math
from datetime import datetime, time

import pytest

from county.domain.dispatch_settings import DispatchSettings, Need
from county.domain.entries import Entry
from county.domain.roster import Place, Rover
from county.domain.rovers_now import Means, RoverNow, rovers_now, spot_of
from county.domain.travel import Spot, Travel
from tests.builders import a_plan, a_roster, after, an_action, an_exception, clock
from tests.looking import the_cases

PLACES = (
    Place("P014", "Mill Creek School", latitude=41.90, longitude=-99.70),
    Place("P015", "Grange Hall", latitude=41.90, longitude=-99.50),
)
ROSTER = a_roster(
    places=PLACES,
    rovers=(Rover("R03", "Rover Three", latitude=41.90, longitude=-99.90, starts=time(5), ends=time(14)),),
)
SETTINGS = DispatchSettings(needs={"scanner-jam": Need(20), "no-power": Need(30)})
TRAVEL = Travel(matrix={("R03", "P014"): 20.0, ("P014", "P015"): 30.0, ("R03", "P015"): 45.0, ("P015", "P014"): 30.0})
JAM = an_exception("scanner-jam", after(60), place="P014", device="SC-0141")
POWER = an_exception("no-power", after(60), place="P015")
JAMMED, DARK = "P014.scanner-jam.SC-0141", "P015.no-power"


def at(now: datetime, *deeds: Entry) -> RoverNow:
    cases = the_cases(JAM, POWER, *deeds, roster=ROSTER).values()
    (found,) = rovers_now(cases, Means(ROSTER, a_plan().election, SETTINGS, TRAVEL), now)
    return found


def deed(case: str, action: str, minutes: float, rover: str = "R03") -> Entry:
    return an_action(case, action, after(minutes), rover=rover)


def ways(rover: RoverNow) -> list[float]:
    """Minutes to the school and to the hall."""
    return rover.minutes_to([spot_of(place, ROSTER.place_by_id) for place in ("P014", "P015")], TRAVEL)


def test_a_rover_begins_at_its_base_and_is_idle() -> None:
    rover = at(after(60))
    assert (rover.at.name, rover.idle, rover.on_site, rover.heading) == ("R03", True, "", "")
    assert ways(rover) == [20, 45]


def test_assigned_is_not_yet_on_the_way() -> None:
    assert at(after(70), deed(JAMMED, "assign", 65)).idle


def test_on_the_way_it_is_as_near_as_the_time_it_has_driven() -> None:
    rover = at(after(75), deed(JAMMED, "under-way", 70))
    assert (rover.heading, rover.gone, rover.idle) == (JAMMED, 0.25, False)
    assert ways(rover) == pytest.approx([15, 0.75 * 45 + 0.25 * 30])


def test_overdue_on_the_way_it_is_taken_to_be_arriving() -> None:
    assert ways(at(after(200), deed(JAMMED, "under-way", 70))) == pytest.approx([0, 30])


def test_on_site_it_is_free_when_the_work_should_be_done() -> None:
    rover = at(after(75), deed(JAMMED, "on-site", 70))
    assert (rover.at.name, rover.on_site, rover.free_in) == ("P014", JAMMED, 15)
    assert ways(rover) == [15, 45]


def test_on_site_for_longer_than_planned_it_needs_a_little_longer() -> None:
    assert at(after(200), deed(JAMMED, "on-site", 70)).free_in == SETTINGS.least_minutes


def test_cleared_it_is_free_where_it_was() -> None:
    rover = at(after(100), deed(JAMMED, "on-site", 70), deed(JAMMED, "clear", 90))
    assert (rover.at.name, rover.idle) == ("P014", True)
    assert ways(rover) == [0, 30]


def test_a_case_cleared_without_going_there_moves_nobody() -> None:
    assert at(after(100), deed(JAMMED, "assign", 65), deed(JAMMED, "clear", 70)).at.name == "R03"


def test_setting_off_for_the_next_before_clearing_the_last_counts_as_setting_off() -> None:
    rover = at(after(95), deed(JAMMED, "on-site", 70), deed(DARK, "under-way", 80))
    assert (rover.at.name, rover.heading, rover.gone) == ("P014", DARK, 0.5)


def test_shifts_are_wall_time_and_may_cross_midnight() -> None:
    early, late = at(clock("04:30")), at(clock("13:30"))
    assert (early.free_in, early.idle, early.until) == (30, False, 570)
    assert late.until == 30
    owl = a_roster(places=PLACES, rovers=(Rover("R09", "Night owl", starts=time(20), ends=time(2)),))
    (found,) = rovers_now([], Means(owl, a_plan().election, SETTINGS, TRAVEL), clock("19:00"))
    assert (found.free_in, found.until) == (60, 7 * 60)
    (found,) = rovers_now([], Means(a_roster(), a_plan().election, SETTINGS, TRAVEL), clock("19:00"))[:1]
    assert (found.free_in, found.until) == (0, math.inf)


def test_a_place_that_is_not_on_the_roster_lies_nowhere_known() -> None:
    assert spot_of("P999", ROSTER.place_by_id) == Spot("P999")
