"""expected-late: the forecast says that a place is more likely than the plan allows to open late."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from county.domain.cases import State
from county.domain.entries import Entry
from county.domain.forecast_limits import ForecastLimits
from county.domain.opening_forecast import OpeningForecast
from county.domain.plan import Plan
from county.domain.rules import CLOCK_RULES
from county.domain.rules.scene import Due
from tests.builders import OPENS, a_full_opening, a_plan, a_step, after, an_action, an_exception, before
from tests.looking import a_scene, raised_of, the_case

RULE = "expected-late"
LIKELY = OpeningForecast("P014", OPENS, 0.716, after(5), after(14), after(31), "seals-checked")


def due_of(forecast: OpeningForecast | None, now: datetime, *entries: Entry, plan: Plan | None = None) -> list[Due]:
    """What the rule finds with this forecast of P014."""
    rule = next(rule for rule in CLOCK_RULES if rule.id == RULE)
    return list(rule.finds(replace(a_scene(*entries, plan=plan), forecast=forecast), now))


def test_from_the_plans_chance_on_it_is_raised_with_the_band_the_chance_and_the_step() -> None:
    (due,) = due_of(LIKELY, before(29.5))
    assert (due.since, due.cause) == (before(30), "open")
    assert due.says == (
        "likely to open 06:14, between 06:05 and 06:31 (80 %); 72 % that it is late; not done: Seals checked"
    )


def test_the_figures_stand_beside_the_words() -> None:
    (due,) = due_of(LIKELY, before(30))
    assert dict(due.fields) == {
        "expected": "open at 06:00",
        "found": "likely 06:14, between 06:05 and 06:31",
        "chance_late": 72,
        "likely_open_at": "2026-11-03T12:14:00Z",
        "earliest_open_at": "2026-11-03T12:05:00Z",
        "latest_open_at": "2026-11-03T12:31:00Z",
        "step": "seals-checked",
    }


@pytest.mark.parametrize(("chance", "raised"), [(0.59, 0), (0.6, 1), (1.0, 1)])
def test_below_the_plans_chance_nothing_is_raised(chance: float, raised: int) -> None:
    assert len(due_of(replace(LIKELY, chance_late=chance), before(30))) == raised
    strict = replace(a_plan(), forecast=ForecastLimits(chance=0.9))
    assert len(due_of(replace(LIKELY, chance_late=chance), before(30), plan=strict)) == (chance >= 0.9)


@pytest.mark.parametrize(("minutes", "raised"), [(61, 0), (60, 1), (0.1, 1), (0, 0), (-5, 0)])
def test_only_so_long_before_the_opening_as_the_plan_says_and_not_after_it(minutes: float, raised: int) -> None:
    assert len(due_of(LIKELY, before(minutes))) == raised
    near = replace(a_plan(), forecast=ForecastLimits(ahead=timedelta(minutes=20)))
    assert len(due_of(LIKELY, before(minutes), plan=near)) == (raised if minutes <= 20 else 0)


def test_without_a_forecast_or_with_every_step_done_nothing_is_raised() -> None:
    assert due_of(None, before(30)) == []
    assert due_of(replace(LIKELY, step=""), before(30)) == []


def test_what_somebody_has_said_already_is_not_said_again() -> None:
    said = an_exception("expected-late", before(40), note="the key is not there")
    assert due_of(LIKELY, before(30), said) == []
    ended = an_action("P014.expected-late", "clear", before(35))
    assert len(due_of(LIKELY, before(30), said, ended)) == 1


def test_the_opening_clears_it() -> None:
    raised = raised_of(RULE, due_of(LIKELY, before(30))[0])
    assert the_case("P014.expected-late", raised).state is State.RAISED
    case = the_case("P014.expected-late", raised, a_step("open", after(17)))
    assert (case.state, case.cleared_at) == (State.CLEARED, after(17))
    assert case.cleared_says == "the facts: the place opened, or all before its opening was done"


def test_so_does_the_last_step_before_it() -> None:
    raised = raised_of(RULE, due_of(LIKELY, before(30))[0])
    *steps, opened = a_full_opening()
    assert the_case("P014.expected-late", raised, *steps[:-1]).state is State.RAISED
    case = the_case("P014.expected-late", raised, *steps)
    assert (case.state, case.cleared_at) == (State.CLEARED, before(16))
    assert the_case("P014.expected-late", raised, *steps, opened).cleared_at == before(16)
