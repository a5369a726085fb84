"""out-of-balance: at the close a protective counter did not rise by what the public counter shows."""

import pytest

from county.domain.effects import Effect
from county.domain.entries import Entry
from tests.builders import CLOSES, a_step, before
from tests.looking import found_by

RULE = "out-of-balance"


def printed(
    public: int | None, protective: int | None, device: str = "SC-0141", step: str = "results-printed"
) -> Entry:
    said = {"public_counter": public, "protective_counter": protective}
    told = {name: number for name, number in said.items() if number is not None}
    return a_step(step, CLOSES, device=device, **told)


def test_a_different_rise_raises_it() -> None:
    (finding,) = found_by(RULE, printed(400, 48_611))
    assert finding.says == "SC-0141: protective counter rose by 401, public counter shows 400"
    assert (finding.expected, finding.found) == ("400", "401")
    assert (finding.effect, finding.device, finding.since) == (Effect.RECORD, "SC-0141", CLOSES)


def test_the_same_rise_does_not() -> None:
    assert found_by(RULE, printed(400, 48_610)) == []


def test_it_rose_from_what_the_zero_report_shows() -> None:
    zero = a_step("zero-report", before(16), device="SC-0141", public_counter=0, protective_counter=48_213)
    assert found_by(RULE, zero, printed(400, 48_613)) == []
    assert found_by(RULE, zero, printed(400, 48_610))[0].found == "397"


def test_at_balanced_it_is_compared_too() -> None:
    assert len(found_by(RULE, printed(400, 48_600, step="balanced"))) == 1


@pytest.mark.parametrize(("public", "protective"), [(None, 48_611), (400, None), (None, None)])
def test_one_number_alone_is_compared_with_nothing(public: int | None, protective: int | None) -> None:
    assert found_by(RULE, printed(public, protective)) == []


def test_where_no_start_is_known_nothing_can_be_compared() -> None:
    assert found_by(RULE, printed(400, 48_611, "BM-0141"), printed(400, 48_611, "")) == []


def test_other_steps_are_not_compared() -> None:
    assert found_by(RULE, printed(0, 48_611, step="closed")) == []
