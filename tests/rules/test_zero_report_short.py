"""zero-report-short: fewer copies or signers than the plan asks; a later full report clears it."""

import pytest

from county.domain.cases import State
from county.domain.effects import Effect
from county.domain.entries import Entry
from tests.builders import a_plan, a_step, before
from tests.looking import found_by, the_case

RULE = "zero-report-short"


def zero(minutes: int = 16, device: str = "SC-0141", /, **said: object) -> Entry:
    return a_step("zero-report", before(minutes), device=device, **said)


@pytest.mark.parametrize(
    ("said", "short"),
    [
        ({"copies": 2, "signers": 2}, "2 of 3 copies"),
        ({"copies": 3, "signers": 1}, "1 of 2 signers"),
        ({"copies": 0, "signers": 0}, "0 of 3 copies, 0 of 2 signers"),
        ({"copies": 2}, "2 of 3 copies"),
    ],
)
def test_fewer_than_asked_raises_it(said: dict[str, object], short: str) -> None:
    (finding,) = found_by(RULE, zero(**said))
    assert finding.says == f"zero report of SC-0141: {short}"
    assert (finding.expected, finding.found) == ("3 copies, 2 signers", short)
    assert (finding.effect, finding.device, finding.clears_at) == (Effect.RECORD, "SC-0141", None)


@pytest.mark.parametrize("said", [{"copies": 3, "signers": 2}, {"copies": 5, "signers": 4}, {}])
def test_as_many_as_asked_or_nothing_said_does_not(said: dict[str, object]) -> None:
    assert found_by(RULE, zero(**said)) == []


def test_the_plan_says_how_many() -> None:
    plan = a_plan(copies=1, signers=4)
    assert found_by(RULE, zero(copies=1, signers=4), plan=plan) == []
    assert found_by(RULE, zero(copies=1, signers=3), plan=plan)[0].found == "3 of 4 signers"


def test_a_later_full_report_of_the_same_device_clears_it() -> None:
    short = zero(copies=2, signers=2)
    assert found_by(RULE, short, zero(10, copies=3, signers=2))[0].clears_at == before(10)
    assert the_case("P014.zero-report-short.SC-0141", short, zero(10, copies=3, signers=2)).state is State.CLEARED


@pytest.mark.parametrize(
    "other",
    [
        zero(10, "SC-0142", copies=3, signers=2),
        zero(20, copies=3, signers=2),
        zero(10, copies=3),
        a_step("open", copies=3, signers=2, device="SC-0141"),
    ],
    ids=["another device", "an earlier one", "not told in full", "another step"],
)
def test_nothing_else_clears_it(other: Entry) -> None:
    assert found_by(RULE, zero(copies=2, signers=2), other)[0].clears_at is None


def test_it_is_cleared_by_the_first_full_report() -> None:
    full = [zero(minutes, copies=3, signers=2) for minutes in (10, 5)]
    assert found_by(RULE, zero(copies=2, signers=2), *full)[0].clears_at == before(10)
