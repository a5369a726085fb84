"""same-trouble: a pattern that the clock wrote down is one case at the place where it began, until it is over."""

from dataclasses import replace
from datetime import datetime, timedelta

from county.domain.cases import State
from county.domain.effects import Effect
from county.domain.entries import Entry, Kind
from county.domain.standing import Standing
from tests.builders import a_full_opening, after, an_action, an_entry, an_exception
from tests.looking import a_picture, found_by, now_at, the_case, the_cases

RULE = "same-trouble"
NAME = "P014.same-trouble.scanner-jam"
CAUSE = "scanner-jam.P014.scanner-jam"
THREE = ("P014.scanner-jam", "P015.scanner-jam", "P016.scanner-jam")


def told(at: datetime, of: str = "scanner-jam", cause: str = CAUSE, **more: object) -> Entry:
    """What the clock wrote down of a pattern, ten seconds after it became true."""
    usual: dict[str, object] = {"exception": "same-trouble", "effect": "stopped", "says": "Scanner jam at 3 places"}
    fields: dict[str, object] = usual | {"of": of, "cause": cause, "cases": THREE} | more
    received_at = at + timedelta(seconds=10)
    entry = an_entry(Kind.RAISED, at, by="clock", sender="clock", received_at=received_at)
    return replace(entry, key=f"clock/{at:%H%M}/{cause}/{of}/{len(fields)}", fields=fields)


BEGUN = told(after(60))
GROWN = told(after(70), says="Scanner jam at 5 places", cases=(*THREE, "P020.scanner-jam", "P021.scanner-jam"))
ENDED = told(after(90), ends=True)


def test_it_says_what_the_clock_wrote_and_links_the_cases() -> None:
    (finding,) = found_by(RULE, BEGUN)
    assert (finding.exception, finding.of, finding.device) == ("same-trouble", "scanner-jam", "")
    assert (finding.effect, finding.since, finding.learned_at) == (Effect.STOPPED, after(60), BEGUN.received_at)
    assert finding.links == THREE
    case = the_case(NAME, BEGUN)
    assert (case.state, case.says, case.links) == (State.RAISED, "Scanner jam at 3 places", THREE)
    assert case.is_pattern


def test_as_it_grows_it_stays_one_case_and_says_the_latest() -> None:
    for entries in ([BEGUN, GROWN], [GROWN, BEGUN]):
        cases = the_cases(*entries)
        assert list(cases) == [NAME]
        assert (cases[NAME].says, len(cases[NAME].links)) == ("Scanner jam at 5 places", 5)
        assert (cases[NAME].raised_at, cases[NAME].learned_at) == (after(60), BEGUN.received_at)


def test_a_worse_effect_counts_and_counts_again_after_somebody_lowered_it() -> None:
    at_first = told(after(60), effect="at-risk")
    lowered = an_action(NAME, "effect", after(65), effect="record")
    assert the_case(NAME, at_first, lowered).effect is Effect.RECORD
    assert the_case(NAME, at_first, lowered, GROWN).effect is Effect.STOPPED


def test_the_clock_says_when_it_is_over() -> None:
    case = the_case(NAME, BEGUN, GROWN, ENDED)
    assert (case.state, case.cleared_at) == (State.CLEARED, after(90))
    assert case.cleared_says == "the facts: every case it links has ended"


def test_an_end_without_a_beginning_is_nothing() -> None:
    assert found_by(RULE, ENDED) == []


def test_again_after_its_end_is_another_case() -> None:
    cases = the_cases(BEGUN, ENDED, told(after(120), cause=f"{CAUSE}/2"))
    assert cases[NAME].state is State.CLEARED
    assert (cases[f"{NAME}.2"].state, cases[f"{NAME}.2"].raised_at) == (State.RAISED, after(120))


def test_two_kinds_that_begin_at_one_place_are_two_cases() -> None:
    power = told(after(61), of="no-power", cause="no-power.P014.no-power")
    assert set(the_cases(BEGUN, power)) == {NAME, "P014.same-trouble.no-power"}


def test_a_person_acts_on_it_as_on_any_case() -> None:
    deeds = [an_action(NAME, "acknowledge", after(61)), an_action(NAME, "clear", after(70), note="one bad delivery")]
    case = the_case(NAME, BEGUN, *deeds)
    assert (case.state, case.acknowledged_at, case.cleared_at) == (State.CLEARED, after(61), after(70))
    assert case.cleared_says == "Front desk: one bad delivery"


def test_what_a_person_did_with_it_stays_on_the_board_without_it() -> None:
    case = the_case(NAME, an_action(NAME, "acknowledge", after(61)))
    assert (case.of, case.device, case.is_pattern) == ("scanner-jam", "", True)


def test_it_is_of_the_county_and_says_nothing_of_the_place_where_it_began() -> None:
    opened = a_full_opening("P014")
    assert now_at(after(65), *opened, BEGUN).standing is Standing.OPEN
    assert now_at(after(65), *opened, BEGUN).open_cases == ()
    ready = [entry for entry in opened if entry.fields.get("step") != "open"]
    assert now_at(after(-5), *ready, told(after(-20))).standing is Standing.READY


def test_a_person_s_own_word_that_many_places_have_it_is_an_ordinary_case() -> None:
    picture = a_picture(an_exception("same-trouble", after(60), note="three calls about toner"))
    (case,) = picture.cases()
    assert (case.case, case.is_pattern, case.links) == ("P014.same-trouble", False, ())
    assert picture.at("P014", after(61)).open_cases == (case,)
