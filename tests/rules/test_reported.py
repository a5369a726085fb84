"""reported: every exception a place reports is a case, with the effect it tells or the kind's usual one."""

import pytest

from county.domain.effects import Effect
from county.domain.exception_kinds import EXCEPTION_KINDS
from tests.builders import a_note, a_step, after, an_exception, an_interruption
from tests.looking import found_by


@pytest.mark.parametrize("kind", EXCEPTION_KINDS)
def test_each_kind_is_raised_with_its_usual_effect(kind: str) -> None:
    (finding,) = found_by("reported", an_exception(kind, after(5)))
    assert (finding.exception, finding.effect) == (kind, EXCEPTION_KINDS[kind].effect)
    assert finding.says == EXCEPTION_KINDS[kind].says
    assert (finding.since, finding.by) == (after(5), "P014")


@pytest.mark.parametrize("effect", Effect)
def test_the_effect_that_is_told_counts(effect: Effect) -> None:
    assert found_by("reported", an_exception("long-line", effect=effect.value))[0].effect is effect


def test_the_callers_own_words_are_said() -> None:
    assert (
        found_by("reported", an_exception("other", note="bees at the door"))[0].says
        == "Other trouble: bees at the door"
    )


def test_it_began_when_the_place_says_since() -> None:
    assert found_by("reported", an_exception("other", after(20), since="2026-11-03T12:05:00Z"))[0].since == after(5)


def test_it_is_the_devices_trouble_where_one_is_named() -> None:
    assert [f.device for f in found_by("reported", an_exception(device="SC-0141"), an_exception())] == ["SC-0141", ""]


def test_nothing_but_an_exception_is_reported_trouble() -> None:
    assert found_by("reported", a_note(), a_step(), an_interruption()) == []


def test_a_kind_the_plan_no_longer_names_still_counts() -> None:
    (finding,) = found_by("reported", an_exception("flooded-lot"))
    assert (finding.says, finding.effect) == ("flooded-lot", Effect.IMPAIRED)


@pytest.mark.parametrize(
    ("kind", "step"),
    [("late-opening", "open"), ("expected-late", "open"), ("not-closed", "closed"), ("not-received", "received")],
)
def test_what_the_place_then_does_ends_these(kind: str, step: str) -> None:
    told = an_exception(kind, after(5))
    assert found_by("reported", told)[0].clears_at is None
    assert found_by("reported", told, a_step(step, after(17)))[0].clears_at == after(17)
    assert found_by("reported", told, a_step(step, after(1)))[0].clears_at == after(5)


def test_no_fact_ends_any_other() -> None:
    steps = [a_step(step, after(17)) for step in ("open", "closed", "received")]
    ended = {kind for kind in EXCEPTION_KINDS if found_by("reported", an_exception(kind), *steps)[0].clears_at}
    assert ended == {"late-opening", "expected-late", "not-closed", "not-received", "long-line"}
