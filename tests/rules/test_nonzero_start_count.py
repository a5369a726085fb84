"""nonzero-start-count: a zero report whose public counter is not zero."""

import pytest

from county.domain.cases import State
from county.domain.effects import Effect
from county.domain.entries import Entry
from tests.builders import a_count, a_step, before
from tests.looking import found_by, the_case

RULE = "nonzero-start-count"


def zero(counter: int | None, device: str = "SC-0141") -> Entry:
    said = {} if counter is None else {"public_counter": counter}
    return a_step("zero-report", before(16), device=device, **said)


@pytest.mark.parametrize("counter", [1, 3, 48_210])
def test_any_count_but_zero_raises_it(counter: int) -> None:
    (finding,) = found_by(RULE, zero(counter))
    assert finding.says == f"SC-0141 started at {counter:,}, not 0"
    assert (finding.expected, finding.found) == ("0", str(counter))
    assert (finding.effect, finding.device, finding.since) == (Effect.STOPPED, "SC-0141", before(16))


@pytest.mark.parametrize("counter", [0, None])
def test_zero_or_nothing_said_does_not(counter: int | None) -> None:
    assert found_by(RULE, zero(counter)) == []


def test_a_count_later_in_the_day_is_no_start() -> None:
    assert found_by(RULE, a_count(public_counter=3, device="SC-0141"), a_step("closed", public_counter=9)) == []


def test_where_no_device_is_named_it_is_the_places() -> None:
    (finding,) = found_by(RULE, a_step("zero-report", public_counter=3))
    assert (finding.says, finding.device) == ("a scanner started at 3, not 0", "")


def test_a_second_zero_report_does_not_clear_it() -> None:
    again = a_step("zero-report", before(5), device="SC-0141", public_counter=0)
    assert the_case("P014.nonzero-start-count.SC-0141", zero(3), again).state is State.RAISED
