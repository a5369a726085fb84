"""What an earlier election teaches: medians, spreads, slow places, hold-ups, hurry; and where it says too little."""

import math
from collections.abc import Iterable
from datetime import timedelta
from random import Random
from statistics import fmean

import pytest

from county.domain.earlier_steps import EarlierStep, parse_earlier_steps
from county.domain.plan_file import parse_plan
from county.domain.step_paces import HoldUps, StepPaces, paces_of, paces_of_plan, steps_before_opening
from county.setting_up import SAMPLE_PLAN
from tests.builders import OPENS, a_plan

PLAN = a_plan()
KEYS = tuple(step.key for step in steps_before_opening(PLAN))
USUAL = {"site-ready": 12.0, "seals-checked": 6.0, "powered": 4.0, "setup-confirmed": 5.0, "zero-report": 8.0}


def told(place: str, minutes: Iterable[tuple[str, float]]) -> list[EarlierStep]:
    return [EarlierStep("2024", place, key, OPENS + timedelta(minutes=round(at)), round(at)) for key, at in minutes]


def a_morning(
    place: str, chance: Random, *, pace: float = 1.0, held: float = 0.0, hurry: bool = False
) -> list[EarlierStep]:
    """One place's morning of lognormal steps, told to the minute."""
    at = -60 + chance.gauss(0, 4)
    done = [("staffed", at)]
    for number, (key, usual) in enumerate(USUAL.items()):
        took = usual * pace * chance.lognormvariate(0, 0.25)
        left, rest = -at, sum(list(USUAL.values())[number:]) * pace
        at += took * min(1.0, max(0.3, left / rest)) if hurry else took
        at += held if key == "powered" else 0.0
        done.append((key, at))
    return told(place, [*done, ("open", max(0.0, at + 3))])


def learned(mornings: Iterable[list[EarlierStep]]) -> StepPaces:
    return paces_of([step for morning in mornings for step in morning], PLAN)


def test_without_an_earlier_election_the_plans_own_gaps_stand() -> None:
    paces = paces_of((), PLAN)
    assert paces == paces_of_plan(PLAN)
    assert tuple(paces.steps) == KEYS
    assert [paces.steps[key].minutes for key in KEYS] == [30, 15, 5, 1, 5, 5]
    assert (paces.arrival, paces.election) == (-75, "")


def test_medians_and_spreads_are_those_of_the_steps() -> None:
    chance = Random(1)
    paces = learned(a_morning(f"P{n:03}", chance) for n in range(300))
    for key, usual in USUAL.items():
        assert paces.steps[key].minutes == pytest.approx(usual, rel=0.15), key
        assert 0.15 <= paces.steps[key].sigma <= 0.4, key
    assert paces.arrival == pytest.approx(-90, abs=1)
    assert paces.spread < 0.12
    assert paces.election == "2024"


def test_a_slow_place_is_thought_somewhat_slow_again_and_the_others_not() -> None:
    chance = Random(2)
    paces = learned(a_morning(f"P{n:03}", chance, pace=1.5 if n < 6 else 1.0) for n in range(60))
    slow = [paces.places[f"P{n:03}"] for n in range(6)]
    others = [paces.places[f"P{n:03}"] for n in range(6, 60)]
    assert 0.05 < fmean(slow) < math.log(1.5) / 2
    assert abs(fmean(others)) < 0.03


def test_hold_ups_are_told_from_slowness_and_counted() -> None:
    chance = Random(3)
    none = learned(a_morning(f"P{n:03}", chance) for n in range(100))
    some = learned(a_morning(f"P{n:03}", chance, held=45 if n % 5 == 0 else 0) for n in range(100))
    assert none.hold_ups.share < HoldUps().share
    assert some.hold_ups.share == pytest.approx((20 + 3) / 900, rel=0.3)
    assert 20 < some.hold_ups.minutes < 50
    assert some.steps["powered"].minutes == pytest.approx(none.steps["powered"].minutes, rel=0.15)


def test_hurry_is_seen_where_there_is_some_and_not_where_there_is_none() -> None:
    chance = Random(4)
    calm = learned(a_morning(f"P{n:03}", chance, pace=1.8) for n in range(200))
    pressed = learned(a_morning(f"P{n:03}", chance, pace=1.8, hurry=True) for n in range(200))
    assert 0 <= calm.hurry <= 0.3
    assert calm.hurry < pressed.hurry <= 0.9


def test_a_handful_of_places_teaches_nothing_of_a_step() -> None:
    chance = Random(5)
    few = learned(a_morning(f"P{n:03}", chance, pace=3) for n in range(5))
    assert few.steps == paces_of_plan(PLAN).steps
    assert few.spread == paces_of_plan(PLAN).spread


def test_the_sample_countys_earlier_election_can_be_learned_from() -> None:
    plan = parse_plan(SAMPLE_PLAN.read_text(encoding="utf-8"), "plan.toml")
    file = SAMPLE_PLAN.parent / "earlier_election" / "earlier_steps.csv"
    paces = paces_of(parse_earlier_steps(file.read_text(encoding="utf-8"), file.name), plan)
    assert paces.election == "2024 General Election"
    assert tuple(paces.steps) == tuple(step.key for step in steps_before_opening(plan))
    assert all(pace.minutes > 0 and pace.sigma > 0 for pace in paces.steps.values())
    assert paces.steps["site-ready"].minutes > paces.steps["powered"].minutes
