"""A place's standing: one word for whether people can vote there. Unknown is never shown as good."""

from datetime import datetime, timedelta

import pytest

from county.domain.entries import Entry
from county.domain.standing import Standing
from tests.builders import (
    CLOSES,
    OPENS,
    a_count,
    a_full_opening,
    a_note,
    a_plan,
    a_step,
    a_withdrawal,
    after,
    an_action,
    an_exception,
    an_interruption,
    before,
    raised,
    the_end,
)
from tests.looking import now_at

UNOPENED = a_full_opening()[:-1]
OPENED = a_step("open", after(0))
CLOSED = a_step("closed", CLOSES)
RECEIVED = a_step("received", after(hours=15))


def stands(now: datetime, *entries: Entry, place: str = "P014") -> Standing:
    return now_at(now, *entries, place=place).standing


@pytest.mark.parametrize("now", [before(hours=9), before(1), after(0), after(hours=5), after(hours=20)])
def test_a_place_that_was_never_heard_from_is_unheard_at_any_hour(now: datetime) -> None:
    assert stands(now) is Standing.UNHEARD
    assert (
        stands(now, raised("silent", "x", before(30)), an_action("P014.silent", "note", before(5))) is Standing.UNHEARD
    )


def test_a_place_heard_from_is_preparing() -> None:
    assert stands(before(30), a_note(before(40))) is Standing.PREPARING


def test_a_place_is_ready_when_every_step_before_opening_is_done() -> None:
    assert stands(before(10), *UNOPENED) is Standing.READY
    for missing in range(len(UNOPENED)):
        rest = UNOPENED[:missing] + UNOPENED[missing + 1 :]
        assert stands(before(10), *rest) is Standing.PREPARING


@pytest.mark.parametrize(
    "trouble",
    [
        an_exception("threat", before(12)),
        an_exception("no-power", before(12)),
        an_interruption("stopped", before(12)),
        a_step("zero-report", before(12), device="SC-0141", public_counter=3),
    ],
)
def test_a_place_with_trouble_that_stops_voting_is_not_ready(trouble: Entry) -> None:
    assert stands(before(10), *UNOPENED, trouble) is Standing.PREPARING


def test_trouble_that_does_not_stop_voting_leaves_it_ready() -> None:
    assert stands(before(10), *UNOPENED, an_exception("scanner-jam", before(12))) is Standing.READY


def test_a_place_is_late_from_its_own_opening_time_on() -> None:
    assert stands(before(1 / 60), *UNOPENED) is Standing.READY
    assert stands(OPENS, *UNOPENED) is Standing.LATE
    assert stands(after(hours=20), *UNOPENED) is Standing.LATE


def test_a_place_with_hours_of_its_own_is_late_by_those() -> None:
    note = a_note(before(30), place="P016")
    assert stands(after(59), note, place="P016") is Standing.PREPARING
    assert stands(after(60), note, place="P016") is Standing.LATE


def test_the_plans_grace_is_waited_for() -> None:

    plan = a_plan(late_grace=timedelta(minutes=5))
    assert now_at(after(4), *UNOPENED, plan=plan).standing is Standing.READY
    assert now_at(after(5), *UNOPENED, plan=plan).standing is Standing.LATE


def test_a_place_that_opened_is_open_whatever_step_is_missing() -> None:
    assert stands(after(1), OPENED) is Standing.OPEN
    assert stands(after(hours=20), OPENED) is Standing.OPEN


def test_a_place_that_opened_late_is_open() -> None:
    late = raised("late-opening", "open", after(0), effect="stopped")
    assert stands(after(10), a_note(before(9)), late) is Standing.LATE
    assert stands(after(20), a_note(before(9)), late, a_step("open", after(17))) is Standing.OPEN


def test_an_opening_withdrawn_makes_it_late_again() -> None:
    assert stands(after(20), OPENED, a_withdrawal(OPENED)) is Standing.LATE


@pytest.mark.parametrize(
    ("trouble", "standing"),
    [
        (an_exception("no-power", after(60)), Standing.STOPPED),
        (an_exception("threat", after(60)), Standing.STOPPED),
        (an_interruption("stopped", after(60)), Standing.STOPPED),
        (an_interruption("impaired", after(60)), Standing.IMPAIRED),
        (an_exception("long-line", after(60)), Standing.IMPAIRED),
        (an_exception("no-power", after(60), effect="impaired"), Standing.IMPAIRED),
        (an_exception("no-power", after(60), effect="at-risk"), Standing.OPEN),
        (an_exception("officers-short", after(60)), Standing.OPEN),
        (a_count(after(60), ballots_left=0), Standing.STOPPED),
        (raised("silent", "x", after(60)), Standing.OPEN),
        # grave, but voters at an open place go on voting
        (a_step("open", before(30)), Standing.OPEN),
        (an_exception("item-missing", after(60)), Standing.OPEN),
    ],
)
def test_an_open_place_stands_as_its_worst_open_case_bears_on_voting(trouble: Entry, standing: Standing) -> None:
    assert stands(after(90), OPENED, trouble) is standing


def test_a_case_that_is_over_no_longer_bears() -> None:
    stopped = an_interruption("stopped", after(60), exception="no-power")
    assert stands(after(90), OPENED, stopped, the_end(after(70), exception="no-power")) is Standing.OPEN
    assert stands(after(90), OPENED, stopped, an_action("P014.no-power", "clear", after(70))) is Standing.OPEN
    assert stands(after(90), OPENED, stopped, an_action("P014.no-power", "acknowledge", after(70))) is Standing.STOPPED


def test_told_again_that_voting_is_stopped_it_is_stopped_again() -> None:
    told = [
        an_interruption("stopped", after(60), exception="no-power"),
        an_action("P014.no-power", "clear", after(70)),
        an_interruption("stopped", after(80), exception="no-power"),
    ]
    assert stands(after(90), OPENED, *told) is Standing.STOPPED


def test_an_effect_changed_by_a_person_is_how_it_bears() -> None:
    changed = an_action("P014.no-power", "effect", after(65), effect="impaired")
    assert stands(after(90), OPENED, an_exception("no-power", after(60)), changed) is Standing.IMPAIRED


def test_one_scanner_of_two_stopped_impairs_a_place_and_both_stop_it() -> None:
    one, other = (
        a_step("zero-report", before(16), device=device, public_counter=3) for device in ("SC-0141", "SC-0142")
    )
    assert stands(after(1), OPENED, one) is Standing.IMPAIRED
    assert stands(after(1), OPENED, one, other) is Standing.STOPPED


def test_its_only_scanner_stopped_stops_a_place() -> None:
    nonzero = a_step("zero-report", before(16), place="P015", device="SC-0151", public_counter=3)
    assert stands(after(1), a_step("open", place="P015"), nonzero, place="P015") is Standing.STOPPED


def test_a_stopped_ballot_marking_device_impairs() -> None:
    down = an_exception("seal-broken", after(5), device="BM-0141")
    assert stands(after(6), OPENED, down) is Standing.IMPAIRED


def test_closed_and_received_stand_whatever_is_open() -> None:
    trouble = an_exception("no-power", after(60))
    assert stands(after(hours=14), OPENED, trouble, CLOSED) is Standing.CLOSED
    assert stands(after(hours=16), OPENED, trouble, CLOSED, RECEIVED) is Standing.RECEIVED
