"""A case against the county's own targets."""

from dataclasses import replace
from datetime import timedelta

import pytest

from county.domain.cases import State
from county.domain.effects import Effect
from county.domain.plan import Target
from dashboard.clock_of_response import ROOM, target_minutes, waiting
from tests.builders import a_plan, after, an_action, an_exception
from tests.looking import the_case

PLAN = replace(a_plan(), targets={Effect.IMPAIRED: Target(5, 30, 90)})
JAM = an_exception("scanner-jam", device="SC-0141")
CASE = "P014.scanner-jam.SC-0141"


@pytest.mark.parametrize(
    ("state", "minutes"),
    [
        (State.RAISED, 5),
        (State.ACKNOWLEDGED, 30),
        (State.ASSIGNED, 30),
        (State.UNDER_WAY, 30),
        (State.ON_SITE, 90),
    ],
)
def test_the_target_is_that_of_what_is_waited_for(state: State, minutes: int) -> None:
    assert target_minutes(Target(5, 30, 90), state) == minutes


def test_without_a_target_on_site_the_target_to_clear_counts() -> None:
    assert target_minutes(Target(clear=720), State.ACKNOWLEDGED) == 720


def test_the_mark_stands_where_the_target_is_and_the_bar_fills_up_to_its_end() -> None:
    case = the_case(CASE, JAM)
    at_target = waiting(case, PLAN, after(5))
    assert at_target.share == pytest.approx(1 / ROOM)
    assert (at_target.mark, at_target.over) == (1 / ROOM, False)
    assert waiting(case, PLAN, after(5.1)).over
    assert waiting(case, PLAN, after(500)).share == 1


def test_without_any_target_nothing_is_ever_over() -> None:
    clock = waiting(the_case(CASE, JAM), a_plan(), after(500))
    assert (clock.mark, clock.over) == (None, False)


def test_the_clock_stops_when_the_case_has_ended() -> None:
    case = the_case(CASE, JAM, an_action(CASE, "clear", after(12), note="cleaned"))
    assert waiting(case, PLAN, after(500)).elapsed == timedelta(minutes=12)
