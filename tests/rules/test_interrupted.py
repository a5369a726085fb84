"""interrupted: voting stopped or impaired is a case until the place reports that it is over."""

from county.domain.effects import Effect
from tests.builders import after, an_exception, an_interruption, the_end
from tests.looking import found_by

BEGUN = an_interruption("stopped", after(60), exception="no-power", fallback="paper ballots", note="whole street")


def test_it_says_what_what_for_and_what_voters_are_offered() -> None:
    (finding,) = found_by("interrupted", BEGUN)
    assert finding.says == "No power: voting stopped (whole street)"
    assert finding.found == "offered meanwhile: paper ballots"
    assert (finding.exception, finding.effect, finding.since) == ("no-power", Effect.STOPPED, after(60))
    assert (finding.clears_at, finding.cause) == (None, BEGUN.key)


def test_without_a_kind_it_is_other_trouble() -> None:
    assert found_by("interrupted", an_interruption("impaired"))[0].says == "Other trouble: voting impaired"


def test_its_end_clears_it() -> None:
    (finding,) = found_by("interrupted", BEGUN, the_end(after(75), exception="no-power"))
    assert (finding.clears_at, finding.clears_says) == (after(75), "the place reported that it is over")


def test_every_report_of_it_is_found_so_that_none_is_hidden_by_a_case_that_was_cleared() -> None:
    again = an_interruption("stopped", after(70), exception="no-power")
    findings = found_by("interrupted", BEGUN, again)
    assert [(finding.cause, finding.since) for finding in findings] == [(BEGUN.key, after(60)), (again.key, after(70))]


def test_the_effect_reported_last_is_the_troubles_effect() -> None:
    better = an_interruption("impaired", after(70), exception="no-power")
    assert {finding.effect for finding in found_by("interrupted", BEGUN, better)} == {Effect.IMPAIRED}
    over = the_end(after(80), exception="no-power")
    assert {finding.clears_at for finding in found_by("interrupted", BEGUN, better, over)} == {after(80)}


def test_it_is_the_devices_where_one_is_named_and_the_places_where_none_is() -> None:
    device = an_interruption("stopped", after(61), device="SC-0141")
    assert {finding.device for finding in found_by("interrupted", BEGUN, device)} == {"", "SC-0141"}


def test_an_end_alone_and_reported_trouble_are_no_interruption() -> None:
    assert found_by("interrupted", the_end(after(75)), an_exception("no-power")) == []
