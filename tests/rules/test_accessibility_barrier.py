"""accessibility-barrier: a route or a door measured narrower than the limit; a later measure wide enough clears it."""

import pytest

from county.domain.cases import State
from county.domain.effects import Effect
from county.domain.entries import Entry
from tests.builders import a_plan, a_step, before
from tests.looking import found_by, the_case

RULE = "accessibility-barrier"


def measured(minutes: int = 35, /, **inches: object) -> Entry:
    return a_step("site-ready", before(minutes), **inches)


@pytest.mark.parametrize(
    ("inches", "says"),
    [
        ({"route_inches": 35}, "route is 35 in wide, 36 in asked"),
        ({"door_inches": 31}, "door is 31 in wide, 32 in asked"),
        ({"route_inches": 0}, "route is 0 in wide, 36 in asked"),
    ],
)
def test_narrower_than_the_limit_raises_it(inches: dict[str, object], says: str) -> None:
    (finding,) = found_by(RULE, measured(**inches))
    assert finding.says == says
    assert (finding.effect, finding.since, finding.clears_at) == (Effect.IMPAIRED, before(35), None)


def test_as_wide_as_the_limit_does_not() -> None:
    assert found_by(RULE, measured(route_inches=36, door_inches=32), measured(20, route_inches=48), measured(10)) == []


def test_both_too_narrow_are_two_facts_of_one_case() -> None:
    both = measured(route_inches=30, door_inches=30)
    assert len({finding.cause for finding in found_by(RULE, both)}) == 2
    assert the_case("P014.accessibility-barrier", both, measured(20, route_inches=36)).state is State.RAISED
    assert (
        the_case("P014.accessibility-barrier", both, measured(20, route_inches=36, door_inches=32)).state
        is State.CLEARED
    )


def test_the_plan_may_ask_for_more() -> None:
    assert len(found_by(RULE, measured(route_inches=40), plan=a_plan(route_inches=44))) == 1


def test_a_later_wide_measure_of_the_same_thing_clears_it() -> None:
    narrow = measured(route_inches=30)
    assert found_by(RULE, narrow, measured(20, route_inches=36))[0].clears_at == before(20)
    assert found_by(RULE, narrow, measured(20, door_inches=36))[0].clears_at is None
    assert found_by(RULE, narrow, measured(50, route_inches=36))[0].clears_at is None


def test_it_is_cleared_by_the_first_measure_that_is_wide_enough() -> None:
    wide = [measured(minutes, route_inches=36) for minutes in (20, 10)]
    assert found_by(RULE, measured(route_inches=30), *wide)[0].clears_at == before(20)
