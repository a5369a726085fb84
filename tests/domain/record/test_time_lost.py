"""Time lost and silences: the union of intervals, the county's threshold, and how long nothing was heard."""

from datetime import timedelta
from typing import Any

from county.domain.entries import Entry
from county.domain.picture import Picture
from county.domain.record.silences import silences
from county.domain.record.time_lost import time_lost
from tests.builders import CLOSES, a_count, a_plan, a_roster, a_step, after, an_interruption, before, raised, the_end


def picture(*entries: Entry, **limits: Any) -> Picture:
    return Picture.of(a_roster(), a_plan(**limits), entries)


def test_late_opening_and_stops_are_counted_once_where_they_overlap() -> None:
    drawn = picture(
        an_interruption("stopped", before(10), exception="no-power"),
        a_step("open", after(34)),
        the_end(after(44), exception="no-power"),
        an_interruption("impaired", after(100), exception="pollbook-outage"),
    )
    lost = next(each for each in time_lost(drawn, after(120)) if each.place.place == "P014")
    assert (lost.late_minutes, lost.minutes) == (34, 44)
    assert [each.why.exception for each in lost.stops if each.why] == ["no-power"]
    assert [each.exception for each in lost.impaired] == ["pollbook-outage"]
    assert lost.closes_if_given_back == CLOSES + timedelta(minutes=44)


def test_the_threshold_is_the_countys_and_below_it_nothing_is_given_back() -> None:
    opened = a_step("open", after(15))
    strict, inclusive = (
        next(e for e in time_lost(picture(opened, extension_inclusive=each), after(90)) if e.place.place == "P014")
        for each in (False, True)
    )
    assert (strict.reaches_threshold, inclusive.reaches_threshold) == (False, True)


def test_a_place_without_loss_or_interruption_is_left_out() -> None:
    assert "P014" not in {each.place.place for each in time_lost(picture(a_step("open", after(0))), after(0.5))}


def test_a_silence_runs_from_when_a_place_was_last_heard_from_to_when_it_spoke_again() -> None:
    opened, spoke = a_step("open", after(0), received_at=after(0)), a_count(after(100), received_at=after(100))
    noticed = raised("silent", "20261103T120000Z", after(75))
    found = [each for each in silences(picture(opened, spoke, noticed), after(101)) if each.place.place == "P014"]
    assert [(each.since, each.until, each.length) for each in found] == [
        (after(0), after(100), timedelta(minutes=100)),
        (before(45), after(0), timedelta(minutes=45)),
    ]
    assert found[0].noticed is not None
    assert found[1].noticed is None


def test_a_place_never_heard_from_is_silent_since_its_first_step_was_due() -> None:
    (found,) = (each for each in silences(picture(), after(0)) if each.place.place == "P014")
    assert (found.since, found.until) == (before(45), None)


def test_after_closing_nobody_is_silent() -> None:
    moments = [*range(-50, 780, 25)]
    told = [a_count(after(minute), received_at=after(minute)) for minute in moments]
    drawn = picture(a_step("open", after(0)), *told, a_step("closed", CLOSES, received_at=CLOSES))
    assert "P014" not in {each.place.place for each in silences(drawn, after(hours=30))}
