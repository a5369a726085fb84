"""Every row of QUESTIONS: one change that it asks about, and that nothing else is asked."""

from dataclasses import replace
from datetime import date, time, timedelta

import pytest

from county.domain.effects import Effect
from county.domain.exception_kinds import ExceptionKind
from county.domain.items import Item
from county.domain.plan import Contact, Plan, Reach, Rung, Target
from county.domain.plan_questions import QUESTIONS, questions
from tests.builders import a_plan

FIVE = timedelta(minutes=5)
LEAD = Contact("Odessa Marl", ("lead",))
BEFORE = replace(
    a_plan(on_the_way=FIVE),
    items=(Item("keys", "Keys"),),
    targets={Effect.STOPPED: Target(acknowledge=3, on_site=20)},
    ladder=(Rung(Effect.STOPPED, timedelta(0), "acknowledged", ("lead",)),),
    people=(LEAD,),
    instructions={"silent": "Call the place."},
    exception_kinds={**a_plan().exception_kinds, "storm": ExceptionKind("storm", "Storm", Effect.AT_RISK, True)},
)
NOW = BEFORE.election


def _without_steps(plan: Plan, key: str) -> Plan:
    return replace(plan, steps=tuple(step for step in plan.steps if step.key != key))


def _elsewhere(plan: Plan) -> Plan:
    zero = next(step for step in plan.steps if step.per_device)
    changed = replace(zero, types=("bmd",))
    return replace(plan, steps=tuple(changed if step is zero else step for step in plan.steps))


CASES = (
    ("rehearsal", replace(BEFORE, election=replace(NOW, rehearsal=not NOW.rehearsal)), "rehearsal"),
    ("day", replace(BEFORE, election=replace(NOW, date=date(2028, 11, 7))), "2028-11-07"),
    ("day", replace(BEFORE, election=replace(NOW, zone="America/Denver")), "America/Denver"),
    ("hours", replace(BEFORE, election=replace(NOW, opens=time(7))), "07:00"),
    ("step-gone", _without_steps(BEFORE, "open"), '"open" is gone'),
    ("step-elsewhere", _elsewhere(BEFORE), "other devices"),
    ("kind-gone", replace(BEFORE, exception_kinds=a_plan().exception_kinds), '"storm" is gone'),
    ("told-later", replace(BEFORE, ladder=()), "Nobody is told any more of a case of stopped"),
    ("told-later", replace(BEFORE, ladder=(replace(BEFORE.ladder[0], after=FIVE),)), "told 5 min later"),
    ("role-without-people", replace(BEFORE, people=()), "Nobody has the role lead"),
    ("other-address", replace(BEFORE, people=(replace(LEAD, notice="setting:LEAD"),)), "Odessa Marl"),
    ("looser-limit", replace(BEFORE, limits=replace(BEFORE.limits, wait_minutes=90)), "wait_minutes is looser: 90"),
    ("looser-limit", replace(BEFORE, limits=replace(BEFORE.limits, signers=0)), "signers is looser: 0"),
    ("looser-limit", replace(BEFORE, limits=replace(BEFORE.limits, on_the_way=2 * FIVE)), "10 min, not 5 min"),
    ("looser-limit", replace(BEFORE, limits=replace(BEFORE.limits, on_the_way=0 * FIVE)), "none, not 5 min"),
    ("item-gone", replace(BEFORE, items=()), '"keys" is gone'),
    ("slower-target", replace(BEFORE, targets={Effect.STOPPED: Target(3, 40)}), "on site a case of stopped is 40 min"),
    ("slower-target", replace(BEFORE, targets={}), "acknowledge a case of stopped is gone"),
    ("printed-words", replace(BEFORE, reach=Reach("555-0111")), "cards that are printed"),
    ("printed-words", replace(BEFORE, words={"text_open": "abierto"}), "text_open"),
    ("instruction-gone", replace(BEFORE, instructions={}), '"silent" is gone'),
)


@pytest.mark.parametrize(("row", "after", "says"), CASES)
def test_each_row_asks_about_its_change_and_no_other_does(row: str, after: Plan, says: str) -> None:
    asked = questions(BEFORE, after)
    assert {each.id for each in asked} == {row}
    assert says in asked[0].says


def test_every_row_has_a_case() -> None:
    assert {row for row, _, _ in CASES} == {question.id for question in QUESTIONS}


def test_the_same_plan_is_asked_about_nothing() -> None:
    assert questions(BEFORE, BEFORE) == ()


def test_what_is_stricter_quicker_or_more_is_not_asked_about() -> None:
    better = replace(
        BEFORE,
        limits=replace(BEFORE.limits, wait_minutes=10, signers=5, silent_after=FIVE),
        targets={Effect.STOPPED: Target(2, 10, 30)},
        instructions={**BEFORE.instructions, "threat": "Call 911 first."},
        people=(LEAD, Contact("Ines Corwith", ("director",))),
    )
    assert questions(BEFORE, better) == ()
