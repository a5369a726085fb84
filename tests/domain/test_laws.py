"""The laws of the picture, for any made-up day: order, repetition, known against live, and what never vanishes."""

from dataclasses import replace
from datetime import datetime, timedelta
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from county.domain.cases import Action, Case
from county.domain.entries import Entry, Kind
from county.domain.picture import Picture, happened, known
from county.domain.rules import clock_findings
from county.domain.rules.scene import Scene
from county.domain.standing import Standing
from tests.builders import LONG_AFTER, a_plan, a_roster, after
from tests.days import MOMENTS, corrections, days, last_received, reports

ROSTER, PLAN = a_roster(), a_plan()
NOWS = st.sampled_from([*MOMENTS, 1_500]).map(after)
A_MOMENT = timedelta(seconds=1)
Raised = tuple[str, str, str, str]


def picture(entries: list[Entry]) -> Picture:
    return Picture.of(ROSTER, PLAN, entries)


def raised_by(drawn: Picture) -> set[Raised]:
    """What raised each case: place, exception, device, report."""
    return {(c.place, c.exception, c.device, report) for c in drawn.cases() for report in c.reports}


@given(days(), st.randoms(use_true_random=False))
def test_any_order_and_any_repetition_of_a_day_gives_the_same_picture(day: list[Entry], chance: Random) -> None:
    again = [*day, *chance.choices(day, k=len(day))] if day else []
    chance.shuffle(again)
    one, other = picture(day), picture(again)
    assert one.places == other.places
    assert one.cases() == other.cases()
    assert one.totals(after(60)) == other.totals(after(60))


@given(days())
def test_one_by_one_equals_all_at_once(day: list[Entry]) -> None:
    growing = picture([])
    for entry in day:
        growing.add([entry])
    assert growing.places == picture(day).places


@given(days(), st.integers(0, 20))
def test_in_two_parts_equals_all_at_once(day: list[Entry], at: int) -> None:
    growing = picture(day[at:])
    growing.add(day[:at])
    assert growing.places == picture(day).places


@given(days(), days(most=3))
def test_how_it_would_stand_with_more_is_how_it_then_stands(day: list[Entry], more: list[Entry]) -> None:
    more = [replace(entry, key=f"more-{entry.key}") for entry in more]
    drawn, untouched = picture(day), picture(day)
    would = drawn.with_more(more)
    assert drawn.places == untouched.places
    drawn.add(more)
    assert {place: drawn.places[place] for place in would} == would
    untouched.add(more)
    assert drawn.places == untouched.places


@given(days())
def test_all_that_will_ever_be_known_is_the_live_picture(day: list[Entry]) -> None:
    everything = Picture.of(ROSTER, PLAN, known(day, LONG_AFTER))
    assert everything.places == picture(day).places


@given(days(), reports(), NOWS)
def test_a_report_received_later_never_changes_what_was_known(day: list[Entry], late: Entry, at: datetime) -> None:
    late = replace(late, key="late", received_at=at + A_MOMENT)
    before, then = (picture(list(known(entries, at))) for entries in (day, [*day, late]))
    assert before.places == then.places


@given(days(), NOWS)
def test_minutes_are_never_negative_and_none_is_lost_outside_a_places_hours(day: list[Entry], now: datetime) -> None:
    for place in picture(day).everywhere(now):
        hours = place.expected.closes_at - place.expected.opens_at
        assert place.minutes_late >= 0
        assert 0 <= place.lost_minutes <= hours.total_seconds() / 60


@given(days(), NOWS)
def test_totals_sum_to_the_number_of_places(day: list[Entry], now: datetime) -> None:
    drawn = picture(day)
    totals = drawn.totals(now)
    assert sum(totals.values()) == len(ROSTER.places)
    assert list(totals) == list(Standing)
    assert [place.standing for place in drawn.everywhere(now)].count(Standing.OPEN) == totals[Standing.OPEN]


@given(days(), st.data())
def test_a_correction_never_makes_a_case_vanish(day: list[Entry], data: st.DataObject) -> None:
    keys = [*(entry.key for entry in day), "nothing"]
    correction = data.draw(corrections(keys))
    moment = last_received(day) + A_MOMENT
    correction = replace(correction, key="last", received_at=moment)
    assert raised_by(picture(day)) <= raised_by(picture([*day, correction]))


@given(days(), reports())
def test_a_report_after_everything_else_never_makes_a_case_vanish(day: list[Entry], report: Entry) -> None:
    last = max([last_received(day), *(entry.happened_at for entry in day)]) + A_MOMENT
    report = replace(report, key="last", happened_at=last, received_at=last)
    assert raised_by(picture(day)) <= raised_by(picture([*day, report]))


@given(days(), reports() | corrections([f"e{number}" for number in range(12)]))
def test_nothing_makes_a_case_vanish_with_which_a_person_did_something(day: list[Entry], late: Entry) -> None:
    spoken_of = {entry.text("case") for entry in day if entry.kind is Kind.ACTION}
    names = {case.case for case in picture([*day, replace(late, key="late")]).cases()}
    assert spoken_of <= names


@given(days())
def test_what_needs_a_person_is_ended_by_a_person_only(day: list[Entry]) -> None:
    for case in picture(day).cases():
        assert not case.needs_person or case.state.open or ended_by_a_person(case)


@given(days())
def test_what_people_did_is_harmless_when_it_is_written_down_twice(day: list[Entry]) -> None:
    # a stroke sorts before every digit, so that the second e1 stands right behind the first
    again = [replace(entry, key=f"{entry.key}-again") for entry in day if entry.kind is Kind.ACTION]
    once, twice = ([replace(case, steps=()) for case in picture(told).cases()] for told in (day, [*day, *again]))
    assert once == twice


@given(days())
def test_nobody_has_a_case_that_they_turned_down(day: list[Entry]) -> None:
    for case in picture(day).cases():
        if case.state.open and case.rover:
            last = [step.action for step in case.steps if step.rover == case.rover and not step.of_another][-1]
            assert last != Action.CANNOT


def ended_by_a_person(case: Case) -> bool:
    endings = [
        step for step in case.steps if step.action in (Action.CLEAR, Action.WITHDRAW) and step.at == case.ended_at
    ]
    return any(step.key for step in endings)


@given(days())
def test_each_case_has_a_name_of_its_own(day: list[Entry]) -> None:
    drawn = picture(day)
    names = [case.case for case in drawn.cases()]
    assert len(set(names)) == len(names)
    assert all(drawn.case(name) for name in names)


@given(days(), NOWS)
def test_every_view_of_any_day_can_be_drawn(day: list[Entry], now: datetime) -> None:
    for entries in (day, known(day, now), happened(day, now)):
        for by_happening in (False, True):
            drawn = Picture.of(ROSTER, PLAN, entries, heard_by_happening=by_happening)
            assert len(drawn.everywhere(now)) == len(ROSTER.places)
            for state in drawn.places.values():
                clock_findings(Scene(state.day, state.expected, PLAN, state.cases), now)


@given(days(), NOWS)
def test_any_day_can_be_drawn_after_plan_and_roster_have_changed(day: list[Entry], now: datetime) -> None:
    plan = replace(PLAN, steps=tuple(step for step in PLAN.steps if step.key in ("open", "closed")), exception_kinds={})
    roster = a_roster(devices=(), seals=(), precincts=())
    drawn = Picture.of(roster, plan, day)
    assert sum(drawn.totals(now).values()) == len(roster.places)
    for state in drawn.places.values():
        clock_findings(Scene(state.day, state.expected, plan, state.cases), now)


@settings(max_examples=30)
@given(days(most=40))
def test_a_longer_day_can_be_drawn_too(day: list[Entry]) -> None:
    drawn = picture(day)
    assert drawn.places == picture(list(reversed(day))).places
