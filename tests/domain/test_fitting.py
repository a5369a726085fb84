"""Roster and plan are held against each other: hours, device types, seals, roles."""

from dataclasses import replace
from datetime import date, time, timedelta

from county.domain.dispatch_settings import Need
from county.domain.effects import Effect
from county.domain.fitting import misfits
from county.domain.plan import Anchor, Contact, Election, Plan, Rung, Step
from county.domain.roster import Device, Place, Roster, Rover, Seal

ON_SCANNERS = Step("seals-checked", "Seals", Anchor.OPENING, timedelta(0), timedelta(0), True, ("scanner",))
PLAN = Plan(Election("E", "C", date(2026, 11, 3), "America/Chicago", time(6), time(19)), (ON_SCANNERS,))
ROSTER = Roster(places=(Place("P001", "A"),), devices=(Device("SC-1", "P001", "scanner"),))


def said(roster: Roster, plan: Plan = PLAN) -> list[tuple[str, bool]]:
    return [(str(problem), problem.warning) for problem in misfits(roster, plan)]


def test_what_fits_says_nothing() -> None:
    assert said(ROSTER) == []


def test_an_own_opening_after_the_plans_closing_is_a_problem() -> None:
    late = replace(ROSTER, places=(Place("P001", "A", opens=time(20)),))
    assert said(late) == [("place P001: opens 20:00, closes 19:00, with the plan's hours", False)]


def test_closing_at_midnight_is_the_end_of_the_day() -> None:
    assert said(replace(ROSTER, places=(Place("P001", "A", opens=time(20), closes=time(0)),))) == []


def test_a_step_on_devices_that_nobody_has_is_worth_a_look() -> None:
    plan = replace(PLAN, steps=(replace(ON_SCANNERS, types=("scanner", "scaner")),))
    assert said(ROSTER, plan) == [("step seals-checked: no device of type scaner is in the roster", True)]


def test_seals_that_no_step_looks_at_are_worth_a_look() -> None:
    sealed = replace(
        ROSTER, devices=(*ROSTER.devices, Device("BM-1", "P001", "bmd")), seals=(Seal("BM-1", "front", "7"),)
    )
    assert said(sealed) == [("step seals-checked: devices of type bmd have seals, but it is not done on them", True)]


def test_a_skill_or_a_spare_that_no_rover_has_is_worth_a_look_once_there_are_rovers() -> None:
    able = Rover("R1", "One", skills=("Scanner", "power", "pollbook", "bmd", "access"), carries=("scanner", "seals"))
    more = Rover("R2", "Two", carries=("pollbook", "paper list", "bmd", "Ballots"))
    assert said(replace(ROSTER, rovers=(able, more))) == []
    assert said(replace(ROSTER, rovers=(able, replace(more, carries=("pollbook", "paper list", "bmd"))))) == [
        (
            "dispatch, spare ballots: no rover has it, and it is needed for wrong-ballots, ballots-short, ballots-out",
            True,
        )
    ]
    nobody_goes = replace(PLAN.dispatch, needs={"accessibility-barrier": Need(rover=False)})
    without_access = replace(able, skills=("scanner", "power", "pollbook", "bmd"))
    assert said(replace(ROSTER, rovers=(without_access, more)), replace(PLAN, dispatch=nobody_goes)) == []


def test_a_role_of_the_ladder_that_nobody_has_is_worth_a_look() -> None:
    rungs = (
        Rung(Effect.STOPPED, timedelta(0), "acknowledged", ("lead", "Ada Rill", "counsel")),
        Rung(Effect.STOPPED, timedelta(minutes=5), "acknowledged", ("counsel",)),
    )
    plan = replace(PLAN, ladder=rungs, people=(Contact("Ada Rill", ("lead",)),))
    assert said(ROSTER, plan) == [("ladder, counsel: no person in the plan has this role", True)]
