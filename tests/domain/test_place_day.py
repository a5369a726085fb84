"""One place's day: which steps are done and when, on which devices, and when it was heard from."""

from dataclasses import replace
from datetime import timedelta
from itertools import permutations

import pytest

from county.domain.corrections import PutRight
from county.domain.entries import Entry, Kind
from county.domain.expected import expected_at
from county.domain.place_day import PlaceDay, fold
from tests.builders import (
    OPENS,
    a_correction,
    a_count,
    a_full_opening,
    a_note,
    a_plan,
    a_roster,
    a_step,
    a_withdrawal,
    after,
    an_action,
    an_exception,
    before,
    clock,
    raised,
)
from tests.looking import the_day

BOTH = ("SC-0141", "SC-0142")


def seal(device: str, position: str, number: str, minutes: int) -> Entry:
    return a_step("seals-checked", before(minutes), device=device, seal_position=position, seal_number=number)


def test_nothing_is_known_of_a_place_that_said_nothing() -> None:
    day = the_day()
    assert (day.opened_at, day.closed_at, day.received_at, day.last_step, day.last_heard_at) == (
        None,
        None,
        None,
        "",
        None,
    )


def test_a_step_is_done_when_it_was_first_reported_done() -> None:
    day = the_day(a_step("staffed", before(40)), a_step("staffed", before(50)))
    assert day.done["staffed"] == before(50)


def test_a_place_that_reports_open_twice_opened_the_first_time() -> None:
    first, second = a_step("open", after(1)), a_step("open", after(4))
    assert {the_day(*order).opened_at for order in permutations([first, second])} == {after(1)}


def test_a_report_that_comes_late_counts_from_when_it_happened() -> None:
    assert the_day(a_step("open", after(0), received_at=after(90))).opened_at == OPENS


def test_a_step_per_device_is_done_when_its_last_device_is() -> None:
    first, second = (a_step("zero-report", before(n), device=d) for n, d in zip((20, 10), BOTH, strict=True))
    assert "zero-report" not in the_day(first).done
    assert the_day(first, second).done["zero-report"] == before(10)
    assert the_day(first).device_done["zero-report", "SC-0141"] == before(20)


def test_a_step_said_of_the_place_is_done_on_all_its_devices() -> None:
    assert the_day(a_step("zero-report", before(10))).done["zero-report"] == before(10)


def test_what_was_done_on_a_device_before_the_place_said_so_stays_done_then() -> None:
    entries = [a_step("zero-report", before(20), device="SC-0141"), a_step("zero-report", before(10))]
    assert the_day(*entries).done["zero-report"] == before(10)
    entries = [*entries, a_step("zero-report", before(12), device="SC-0142")]
    assert the_day(*entries).done["zero-report"] == before(12)


def test_a_step_of_the_place_may_be_reported_with_a_device() -> None:
    assert the_day(a_step("powered", before(20), device="SC-0142")).done["powered"] == before(20)


def test_a_device_of_another_place_does_no_step_here() -> None:
    foreign = [a_step("zero-report", before(20), device=device) for device in ("SC-0141", "SC-0151")]
    assert "zero-report" not in the_day(*foreign).done


def test_seals_are_checked_when_every_recorded_position_was_looked_at() -> None:
    of_one = [seal("SC-0141", "front", "A100", 30), seal("SC-0141", "auxiliary", "A101", 29)]
    assert ("seals-checked", "SC-0141") not in the_day(of_one[0]).device_done
    assert the_day(*of_one).device_done["seals-checked", "SC-0141"] == before(29)


@pytest.mark.parametrize("again", ["front", "Front", "FRONT"])
def test_the_same_position_looked_at_twice_is_one_position(again: str) -> None:
    day = the_day(seal("SC-0141", "front", "A100", 30), seal("SC-0141", again, "A100", 20))
    assert ("seals-checked", "SC-0141") not in day.device_done


def test_a_seal_without_its_position_is_known_by_its_number() -> None:
    without = [a_step("seals-checked", before(30), device="SC-0141", seal_number=n) for n in ("A101", "a-101")]
    assert ("seals-checked", "SC-0141") not in the_day(*without).device_done
    both = [*without, a_step("seals-checked", before(20), device="SC-0141", seal_number="A100")]
    assert the_day(*both).device_done["seals-checked", "SC-0141"] == before(20)


def test_a_seal_check_that_says_no_numbers_is_a_tick_for_the_whole_device() -> None:
    day = the_day(a_step("seals-checked", before(30), device="SC-0141"))
    assert day.device_done["seals-checked", "SC-0141"] == before(30)


def test_seals_nobody_recorded_are_checked_at_the_first_look() -> None:
    day = the_day(a_step("seals-checked", before(30), device="SC-0161", seal_number="Z1", place="P016"), place="P016")
    assert day.done["seals-checked"] == before(30)


def test_the_last_step_is_the_one_completed_last() -> None:
    assert the_day(*a_full_opening()).last_step == "open"
    assert the_day(a_step("powered", before(10)), a_step("staffed", before(9))).last_step == "staffed"


def test_of_steps_completed_at_the_same_moment_the_last_of_the_plan_is_the_last() -> None:
    steps = [a_step(key, before(20)) for key in ("powered", "staffed", "site-ready")]
    assert {the_day(*order).last_step for order in permutations(steps)} == {"powered"}


def test_a_step_done_on_some_devices_is_not_the_last_step() -> None:
    assert (
        the_day(a_step("staffed", before(40)), a_step("zero-report", before(10), device="SC-0141")).last_step
        == "staffed"
    )


def test_a_withdrawn_opening_is_no_opening() -> None:
    opened = a_step("open", after(0))
    day = the_day(opened, a_withdrawal(opened))
    assert day.opened_at is None
    assert day.corrected[0].told == opened
    assert day.steps == ()


def test_a_corrected_time_moves_the_opening() -> None:
    opened = a_step("open", after(0))
    assert the_day(opened, a_correction(opened, after(7), told=True, received_at=after(30))).opened_at == after(7)


def test_a_correction_made_without_a_time_leaves_the_opening_where_it_was() -> None:
    opened = a_step("open", after(2))
    assert the_day(opened, a_correction(opened, after(30), note="by the wall clock")).opened_at == after(2)


def test_a_corrected_report_falls_into_its_place_in_time() -> None:
    early, late = a_count(after(60), public_counter=20), a_count(after(120), public_counter=50)
    day = the_day(early, late, a_correction(early, after(180), told=True, received_at=after(200)))
    assert [entry.number("public_counter") for entry in day.counts] == [50, 20]


def test_what_was_told_stays_readable_beside_its_correction() -> None:
    count = a_count(after(60), public_counter=20)
    correction = a_correction(count, public_counter=30)
    day = the_day(count, correction)
    assert day.told == (count, correction)
    assert [entry.number("public_counter") for entry in day.counts] == [30]
    assert day.corrected == (PutRight(count, day.counts[0], (correction,)),)


def test_every_kind_of_entry_lies_in_its_own_row_in_the_order_it_happened() -> None:
    entries = [
        a_note(after(3)),
        an_exception("other", after(2)),
        raised("silent", "x", after(1)),
        an_action("P014.silent", "acknowledge", after(4)),
        a_note(after(0)),
    ]
    day = the_day(*entries)
    assert [entry.happened_at for entry in day.notes] == [after(0), after(3)]
    assert [len(row) for row in (day.exceptions, day.raised, day.actions, day.steps, day.counts)] == [1, 1, 1, 0, 0]
    assert [entry.kind for entry in day.told] == [Kind.NOTE, Kind.RAISED, Kind.EXCEPTION, Kind.NOTE, Kind.ACTION]


def test_a_place_is_heard_when_its_report_is_received() -> None:
    day = the_day(a_note(before(60), received_at=before(5)), a_note(before(30), received_at=before(25)))
    assert day.heard == (before(25), before(5))
    assert day.last_heard_at == before(5)


def test_what_the_office_itself_writes_is_no_sign_of_life_of_the_place() -> None:
    assert the_day(raised("silent", "x", after(1)), an_action("P014.silent", "note", after(2))).heard == ()


def test_a_correction_and_a_withdrawn_report_are_signs_of_life() -> None:
    note = a_note(before(30))
    assert len(the_day(note, a_withdrawal(note)).heard) == 2


def happening(*entries: Entry) -> PlaceDay:
    roster = a_roster()
    expected = expected_at(roster.place_by_id["P014"], roster, a_plan())
    return fold(expected, entries, heard_by_happening=True)


def test_by_happening_a_place_is_heard_when_its_report_happened() -> None:
    assert happening(a_note(before(60), received_at=before(5))).heard == (before(60),)


def test_by_happening_a_correction_made_later_is_no_sign_of_life() -> None:
    note = a_note(before(60))
    assert happening(note, a_correction(note, after(600), note="y")).heard == (before(60),)
    assert happening(a_correction("not-yet", after(600), note="y")).heard == ()
    assert happening(note, a_withdrawal(note, after(600))).heard == ()


def test_a_trainings_reports_are_no_part_of_the_day() -> None:
    week = timedelta(days=7)
    week_before = [
        replace(entry, happened_at=entry.happened_at - week, received_at=entry.received_at - week)
        for entry in a_full_opening()
    ]
    day = the_day(*week_before)
    assert (day.opened_at, day.last_step, day.last_heard_at, dict(day.done)) == (None, "", None, {})
    assert len(day.told) == len(week_before), "they stay readable"


def test_a_room_may_be_set_up_the_afternoon_before_but_no_poll_is_open_then() -> None:
    assert the_day(a_step("site-ready", clock("12:00") - timedelta(days=1))).done.keys() == {"site-ready"}
    assert the_day(a_step("site-ready", clock("11:59") - timedelta(days=1))).done.keys() == set()
    assert the_day(a_step("open", clock("0:00") - timedelta(seconds=1))).opened_at is None
    assert the_day(a_step("open", clock("0:00"))).opened_at == clock("0:00")


def test_a_date_typed_a_day_early_does_not_open_the_polls() -> None:
    assert the_day(a_step("open", after(1) - timedelta(days=1), received_at=after(2))).opened_at is None


def test_a_step_of_the_place_reported_of_two_devices_was_done_with_the_first() -> None:
    two = [a_step("powered", before(n), device=device) for n, device in zip((20, 25), BOTH, strict=True)]
    assert the_day(*two).done["powered"] == before(25)


def test_a_place_is_heard_of_from_noon_of_the_day_before() -> None:
    noon = clock("12:00") - timedelta(days=1)
    assert the_day(a_note(noon, received_at=noon)).heard == (noon,)
    early = noon - timedelta(seconds=1)
    assert the_day(a_note(early, received_at=early)).heard == ()
