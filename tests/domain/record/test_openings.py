"""The record of openings: whose clock, when it was known, how late, what was the matter, and what was expected."""

from county.domain.entries import Entry, Stamp
from county.domain.picture import Picture
from county.domain.record.forecasts import forecasts
from county.domain.record.late_openings import late_openings
from county.domain.record.opening import opening
from tests.builders import (
    a_correction,
    a_full_opening,
    a_plan,
    a_roster,
    a_step,
    a_withdrawal,
    after,
    an_action,
    an_exception,
    before,
    raised,
)


def picture(*entries: Entry) -> Picture:
    return Picture.of(a_roster(), a_plan(), entries)


def test_an_opening_says_by_whose_clock_and_when_the_office_learned_it() -> None:
    told = a_step("open", after(34), received_at=after(52), stamp=Stamp.RECEIVED)
    found = opening(picture(told).places["P014"].day)
    assert found is not None
    assert (found.opened_at, found.learned_at, found.report.stamp) == (after(34), after(52), Stamp.RECEIVED)
    assert found.behind.total_seconds() == 18 * 60


def test_an_opening_put_right_is_known_since_it_was_first_told() -> None:
    told = a_step("open", after(4), key="told")
    righted = a_correction(told, after(34), told=True, received_at=after(90))
    found = opening(picture(told, righted).places["P014"].day)
    assert found is not None
    assert (found.opened_at, found.told.happened_at, found.corrections) == (after(34), after(4), (righted,))
    assert found.learned_at == told.received_at


def test_a_place_that_is_not_open_has_no_opening() -> None:
    told = a_step("open", after(4))
    assert opening(picture(told, a_withdrawal(told)).places["P014"].day) is None


def test_late_openings_come_worst_first_those_not_open_before_the_others() -> None:
    drawn = picture(*a_full_opening("P014", after(34)), *a_full_opening("P016", after(60)))
    late = late_openings(drawn, after(90))
    # P016 opens at 07:00 and did
    assert [(each.place.place, each.minutes, each.opened_at) for each in late] == [
        ("P015", 90, None),
        ("P014", 34, after(34)),
    ]
    assert late[1].opening is not None
    assert late_openings(picture(), after(0)) == ()


def test_what_was_the_matter_is_what_was_open_at_the_opening_time_or_arose_until_it_opened() -> None:
    drawn = picture(
        an_exception("no-power", before(20), effect="stopped"),
        an_exception("scanner-jam", before(50), device="SC-0141"),
        an_action("P014.scanner-jam.SC-0141", "clear", before(40), note="paper out"),
        an_exception("long-line", after(40)),
        raised("late-opening", "open", after(0)),
        a_step("open", after(34), note="power back at 06:30"),
    )
    late = next(each for each in late_openings(drawn, after(90)) if each.place.place == "P014")
    assert [case.exception for case in late.trouble] == ["no-power"]
    assert late.told == "power back at 06:30"
    assert late.late is not None
    assert late.late.cleared_at == after(34)


def test_a_forecast_came_true_or_did_not_and_some_late_openings_nobody_foresaw() -> None:
    drawn = picture(
        an_exception("expected-late", before(30), place="P014"),
        an_exception("expected-late", before(30), place="P016"),
        a_step("open", after(34), place="P014"),
        a_step("open", after(60), place="P016"),
        a_step("open", after(5), place="P015"),
    )
    found = forecasts(drawn, after(90))
    assert {each.place.place: (each.came_true, each.minutes_late) for each in found.told} == {
        "P014": (True, 34),
        "P016": (False, 0),
    }
    assert (found.came_true, found.did_not) == (1, 1)
    assert [each.place.place for each in found.unforeseen] == ["P015"]


def test_before_the_opening_time_a_forecast_is_neither_true_nor_false() -> None:
    (told,) = forecasts(picture(an_exception("expected-late", before(30))), before(10)).told
    assert told.came_true is None


def test_what_is_said_after_the_opening_time_is_no_forecast() -> None:
    drawn = picture(an_exception("expected-late", after(5)), a_step("open", after(34)))
    found = forecasts(drawn, after(90))
    assert found.told == ()
    assert "P014" in {each.place.place for each in found.unforeseen}


def test_what_the_clock_forecast_stands_with_its_chance_and_how_long_before() -> None:
    clock = raised("expected-late", "open", before(30), chance_late=72, likely_open_at="2026-11-03T12:14:00Z")
    person = an_exception("expected-late", before(20), place="P015")
    found = forecasts(picture(clock, person, *a_full_opening("P014", after(34))), after(60))
    first, second = found.told
    assert (first.place.place, first.case.raised_by, first.chance, first.likely_at) == ("P014", "clock", 72, after(14))
    assert (first.minutes_before, first.minutes_late, first.came_true) == (29, 34, True)
    assert (second.chance, second.likely_at, second.came_true) == (None, None, True)
