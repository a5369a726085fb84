"""raised-by-clock: what the clock wrote down is a case, until the facts of its own rule end it."""

import pytest

from county.domain.effects import Effect
from tests.builders import a_step, after, before, raised
from tests.looking import found_by


def test_it_says_what_the_clock_wrote() -> None:
    entry = raised("late-opening", "open", after(0), effect="stopped")
    (finding,) = found_by("raised-by-clock", entry)
    assert (finding.exception, finding.effect, finding.says) == ("late-opening", Effect.STOPPED, entry.fields["says"])
    assert (finding.since, finding.learned_at, finding.by) == (after(0), entry.received_at, "clock")
    assert finding.clears_at is None


def test_the_facts_of_its_own_rule_end_it() -> None:
    overdue = raised("step-overdue", "staffed", before(40))
    late = raised("late-opening", "open", after(0))
    ends = {f.exception: f.clears_at for f in found_by("raised-by-clock", overdue, late, a_step("staffed", before(35)))}
    assert ends == {"step-overdue": before(35), "late-opening": None}


def test_what_was_over_before_it_was_raised_is_over_as_it_is_raised() -> None:
    overdue = raised("step-overdue", "staffed", before(40))
    done = a_step("staffed", before(50), received_at=after(5))
    assert found_by("raised-by-clock", overdue, done)[0].clears_at == before(40)


@pytest.mark.parametrize("exception", ["same-trouble", "flooded-lot"])
def test_what_no_rule_ends_stays(exception: str) -> None:
    (finding,) = found_by("raised-by-clock", raised(exception, "x"), a_step("open", after(5)))
    assert finding.clears_at is None


def test_an_effect_nobody_knows_becomes_the_kinds_usual_one() -> None:
    assert found_by("raised-by-clock", raised("late-opening", "open", effect="gone"))[0].effect is Effect.STOPPED


def test_what_a_place_did_is_not_the_clocks() -> None:
    assert found_by("raised-by-clock", a_step("open")) == []
