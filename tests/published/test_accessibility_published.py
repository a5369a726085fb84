"""The widths of the 2010 ADA Standards for Accessible Design: an accessible route and a door."""

import pytest

from county.domain.plan import Limits
from tests.builders import a_step
from tests.looking import found_by

# 403.5.1 Clear width of a walking surface: 36 inches minimum. 404.2.3 Clear width of a door opening: 32 inches minimum.
ROUTE, DOOR = 36, 32


def test_the_plans_own_limits_are_the_standards() -> None:
    assert (Limits().route_inches, Limits().door_inches) == (ROUTE, DOOR)


@pytest.mark.parametrize(("inches", "raises"), [(35, True), (36, False), (37, False)])
def test_a_route_of_36_inches_is_wide_enough_and_one_of_35_is_not(inches: int, raises: bool) -> None:
    assert bool(found_by("accessibility-barrier", a_step("site-ready", route_inches=inches))) is raises


@pytest.mark.parametrize(("inches", "raises"), [(31, True), (32, False), (33, False)])
def test_a_door_of_32_inches_is_wide_enough_and_one_of_31_is_not(inches: int, raises: bool) -> None:
    assert bool(found_by("accessibility-barrier", a_step("site-ready", door_inches=inches))) is raises
