"""auxiliary-in-use: ballots lie unscanned in the auxiliary compartment; a later count of none clears it."""

from county.domain.effects import Effect
from county.domain.entries import Entry
from tests.builders import a_count, a_step, after
from tests.looking import found_by

RULE = "auxiliary-in-use"


def lying(ballots: int, minutes: float, device: str = "SC-0141") -> Entry:
    return a_count(after(minutes), auxiliary=ballots, device=device)


def test_any_raise_it() -> None:
    (finding,) = found_by(RULE, lying(1, 60))
    assert (finding.says, finding.found) == ("ballots in the auxiliary compartment: 1", "1")
    assert (finding.effect, finding.device, finding.clears_at) == (Effect.IMPAIRED, "SC-0141", None)


def test_none_does_not() -> None:
    assert found_by(RULE, lying(0, 60), a_count(after(60), in_line=3), a_step("balanced", auxiliary=12)) == []


def test_a_later_count_of_none_on_that_device_clears_it() -> None:
    (finding,) = found_by(RULE, lying(12, 60), lying(0, 120))
    assert (finding.clears_at, finding.clears_says) == (after(120), "it is empty again")


def test_fewer_or_another_devices_does_not() -> None:
    findings = found_by(RULE, lying(12, 60), lying(3, 120), lying(0, 130, "SC-0142"))
    assert [finding.clears_at for finding in findings] == [None, None]
