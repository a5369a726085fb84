"""Short ways for a test to look at what was folded: a picture, a place, its cases, what one rule finds."""

from datetime import datetime

from county.domain.cases import Case
from county.domain.entries import Entry
from county.domain.findings import Finding
from county.domain.picture import Picture, PlaceNow, PlaceState
from county.domain.place_day import PlaceDay
from county.domain.plan import Plan
from county.domain.roster import Roster
from county.domain.rules import CLOCK_RULES, FACT_RULES
from county.domain.rules.scene import Due, Scene
from tests.builders import a_plan, a_roster, raised


def raised_of(rule_id: str, due: Due, place: str = "P014", effect: str = "at-risk") -> Entry:
    """What the clock would write down of what one of its rules found."""
    rule = next(rule for rule in CLOCK_RULES if rule.id == rule_id)
    return raised(rule.exception, due.cause, due.since, place=place, effect=effect, device=due.device)


def a_picture(*entries: Entry, plan: Plan | None = None, roster: Roster | None = None) -> Picture:
    """The county's picture of these entries."""
    return Picture.of(roster or a_roster(), plan or a_plan(), entries)


def the_state(
    *entries: Entry, place: str = "P014", plan: Plan | None = None, roster: Roster | None = None
) -> PlaceState:
    """One place folded."""
    return a_picture(*entries, plan=plan, roster=roster).places[place]


def the_day(*entries: Entry, place: str = "P014", plan: Plan | None = None, roster: Roster | None = None) -> PlaceDay:
    """One place's day."""
    return the_state(*entries, place=place, plan=plan, roster=roster).day


def the_cases(*entries: Entry, plan: Plan | None = None, roster: Roster | None = None) -> dict[str, Case]:
    """Every case of the county by its name."""
    return {case.case: case for case in a_picture(*entries, plan=plan, roster=roster).cases()}


def the_case(name: str, *entries: Entry, plan: Plan | None = None, roster: Roster | None = None) -> Case:
    """The case with this name; the test fails where there is none."""
    cases = the_cases(*entries, plan=plan, roster=roster)
    assert name in cases, f"no case {name}, only {sorted(cases)}"
    return cases[name]


def now_at(now: datetime, *entries: Entry, place: str = "P014", plan: Plan | None = None) -> PlaceNow:
    """One place at a moment."""
    return a_picture(*entries, plan=plan).at(place, now)


def a_scene(*entries: Entry, place: str = "P014", plan: Plan | None = None, roster: Roster | None = None) -> Scene:
    """What a rule looks at."""
    plan = plan or a_plan()
    state = the_state(*entries, place=place, plan=plan, roster=roster)
    return Scene(state.day, state.expected, plan, state.cases)


def found_by(
    rule_id: str, *entries: Entry, place: str = "P014", plan: Plan | None = None, roster: Roster | None = None
) -> list[Finding]:
    """What one rule of FACT_RULES finds."""
    rule = next(rule for rule in FACT_RULES if rule.id == rule_id)
    return list(rule.finds(a_scene(*entries, place=place, plan=plan, roster=roster)))


def due_by(
    rule_id: str,
    now: datetime,
    *entries: Entry,
    place: str = "P014",
    plan: Plan | None = None,
    roster: Roster | None = None,
) -> list[Due]:
    """What one rule of CLOCK_RULES finds at a moment."""
    rule = next(rule for rule in CLOCK_RULES if rule.id == rule_id)
    return list(rule.finds(a_scene(*entries, place=place, plan=plan, roster=roster), now))
