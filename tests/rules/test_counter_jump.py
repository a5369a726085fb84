"""counter-jump: a public counter that rose faster than a scanner can count, by the plan's ballots per hour."""

import pytest

from county.domain.effects import Effect
from county.domain.entries import Entry
from tests.builders import a_count, a_plan, after
from tests.looking import found_by

RULE = "counter-jump"


def read(counter: int, minutes: float, device: str = "SC-0141") -> Entry:
    return a_count(after(minutes), device=device, public_counter=counter)


@pytest.mark.parametrize(
    ("rose", "minutes", "raises"),
    # 400 an hour and ten for the reading itself; less than a minute counts as one
    [
        *((410, 60, False), (411, 60, True), (210, 30, False), (211, 30, True)),
        *((16, 1, False), (17, 1, True), (16, 0, False), (17, 0, True)),
    ],
)
def test_it_is_raised_past_what_a_scanner_can_count(rose: int, minutes: float, raises: bool) -> None:
    assert bool(found_by(RULE, read(100, 60), read(100 + rose, 60 + minutes))) is raises


def test_it_says_how_much_and_how_fast() -> None:
    (finding,) = found_by(RULE, read(100, 60), read(4_120, 90))
    assert finding.says == "SC-0141 rose by 4,020 in 30 min"
    assert (finding.expected, finding.found) == ("at most 210", "4,020")
    assert (finding.effect, finding.device, finding.since) == (Effect.AT_RISK, "SC-0141", after(90))


def test_the_plan_says_how_fast_a_scanner_is() -> None:
    assert found_by(RULE, read(100, 60), read(900, 120), plan=a_plan(ballots_per_hour=800)) == []


def test_a_places_own_total_may_rise_by_what_all_its_scanners_can_count() -> None:
    assert found_by(RULE, read(100, 60, ""), read(910, 120, "")) == []
    assert found_by(RULE, read(100, 60, ""), read(911, 120, ""))[0].says == "the place rose by 811 in 60 min"


def test_a_first_reading_and_devices_beside_each_other_are_no_jump() -> None:
    assert found_by(RULE, read(2_000, 60), read(9_000, 61, "SC-0142")) == []
