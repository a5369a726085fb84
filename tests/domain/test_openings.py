"""The forecast of openings: what it must never say, whatever a place has told, and what it says of plain mornings."""

from datetime import datetime, timedelta
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from county.domain.entries import Entry
from county.domain.openings import OpeningForecast, forecast_openings
from county.domain.picture import Picture
from county.domain.plan import Plan
from county.domain.roster import Place
from county.domain.step_paces import paces_of
from tests.builders import (
    OPENS,
    a_full_opening,
    a_note,
    a_plan,
    a_roster,
    a_step,
    after,
    an_exception,
    an_interruption,
    before,
    raised,
    the_end,
)
from tests.days import days
from tests.looking import a_picture

PLAN = a_plan(late_grace=timedelta(minutes=2))
PACES = paces_of((), PLAN)
OPENING = a_full_opening("P015")[:-1]
NOTICEABLY = 0.03


def forecast(now: datetime, *entries: Entry, plan: Plan = PLAN) -> dict[str, OpeningForecast]:
    """What is forecast from these entries."""
    return forecast_openings(a_picture(*entries, plan=plan).places.values(), PACES, plan, now)


def of(now: datetime, *entries: Entry, place: str = "P015") -> OpeningForecast:
    return forecast(now, *entries)[place]


def moved(entries: tuple[Entry, ...], minutes: float) -> tuple[Entry, ...]:
    """The same steps so many minutes later."""
    return tuple(
        a_step(e.text("step"), e.happened_at + timedelta(minutes=minutes), place="P015", device=e.device)
        for e in entries
    )


@st.composite
def mornings(draw: st.DrawFn) -> tuple[Entry, ...]:
    """The first so many steps of P015 at some pace, and perhaps a trouble."""
    number = draw(st.integers(1, len(OPENING)))
    shift = draw(st.integers(-20, 60))
    told = moved(OPENING[:number], shift)
    trouble = draw(st.sampled_from(["", "other", "no-power", "officers-short", "expected-late"]))
    return (*told, an_exception(trouble, told[-1].happened_at, place="P015")) if trouble else told


@given(days(), st.integers(-90, 900))
@settings(max_examples=60, deadline=None)
def test_whatever_was_told_a_chance_is_one_the_band_is_in_order_and_nobody_opens_before_their_hour(
    entries: list[Entry], minute: int
) -> None:
    picture = Picture.of(a_roster(), PLAN, entries)
    now = after(minute)
    for place, said in forecast_openings(picture.places.values(), PACES, PLAN, now).items():
        state = picture.places[place]
        assert 0 <= said.chance_late <= 1
        assert 1 <= said.per_cent <= 99
        assert said.opens_at <= said.earliest <= said.middle <= said.latest
        assert state.day.heard
        assert not state.day.opened_at
        assert said.step in {"", *(step.key for step in state.expected.steps if step.step.before_opening)}
        assert said.step not in state.day.done


@given(mornings(), st.integers(0, 90), st.integers(1, 30))
@settings(max_examples=80, deadline=None)
def test_more_time_gone_with_nothing_done_never_lowers_the_chance_noticeably(
    entries: tuple[Entry, ...], minute: int, more: int
) -> None:
    now = max(entry.received_at for entry in entries) + timedelta(minutes=minute)
    sooner, later = of(now, *entries), of(now + timedelta(minutes=more), *entries)
    assert later.chance_late >= sooner.chance_late - NOTICEABLY
    assert later.latest >= sooner.latest - timedelta(minutes=2)


@given(mornings(), st.integers(0, 40), st.integers(0, 5))
@settings(max_examples=80, deadline=None)
def test_a_step_done_never_raises_the_chance_much(entries: tuple[Entry, ...], minute: int, at: int) -> None:
    told = [entry for entry in entries if entry.text("step")]
    left = OPENING[len(told) :]
    if not left or len(told) < len(entries):
        return  # a trouble in the middle of things may be told beside the step
    now = max(entry.received_at for entry in entries) + timedelta(minutes=minute)
    step = left[0]
    done = a_step(step.text("step"), now - timedelta(minutes=min(at, minute)), place="P015", device=step.device)
    assert of(now, *entries, done).chance_late <= of(now, *entries).chance_late + 0.12


@given(st.lists(mornings(), min_size=1, max_size=1), st.randoms(use_true_random=False))
@settings(max_examples=20, deadline=None)
def test_the_order_of_entries_and_of_places_does_not_matter(told: list[tuple[Entry, ...]], chance: Random) -> None:
    entries = [*told[0], *a_full_opening("P014")[:4]]
    shuffled = list(entries)
    chance.shuffle(shuffled)
    states = list(a_picture(*shuffled, plan=PLAN).places.values())
    assert forecast(before(10), *entries) == forecast_openings(states[::-1], PACES, PLAN, before(10))


def test_it_is_the_same_all_through_a_minute() -> None:
    entries = OPENING[:3]
    assert forecast(before(20), *entries) == forecast(before(19.01), *entries)
    assert forecast(before(20), *entries) != forecast(before(18.9), *entries)


def test_of_a_place_that_was_not_heard_from_nothing_is_said() -> None:
    assert forecast(before(5)) == {}
    assert forecast(before(5), a_note(before(20), place="P014")).keys() == {"P014"}


@pytest.mark.parametrize("step", ["open", "closed", "received"])
def test_nor_of_one_that_is_open_or_over(step: str) -> None:
    assert forecast(after(5), *OPENING, a_step(step, after(1), place="P015")) == {}
    assert forecast(after(hours=14), *OPENING) == {}


def test_a_usual_morning_is_on_course_and_names_the_step_in_hand() -> None:
    for number, step in ((1, "site-ready"), (2, "seals-checked"), (4, "setup-confirmed")):
        told = OPENING[:number]
        said = of(told[-1].happened_at + timedelta(minutes=2), *told)
        assert said.step == step
        assert said.chance_late < 0.25
        assert said.middle == OPENS
    ready = of(before(10), *OPENING)
    assert (ready.step, ready.middle, ready.latest) == ("", OPENS, OPENS)
    assert ready.chance_late < 0.02


def test_one_that_comes_an_hour_late_is_late() -> None:
    said = of(after(-1), *moved(OPENING[:2], 40))
    assert said.chance_late > 0.95
    assert after(2) < said.earliest < said.middle < said.latest


def test_past_its_hour_and_grace_a_place_not_reported_open_is_late_for_certain() -> None:
    assert of(after(2), *OPENING).chance_late == 1.0
    assert of(after(1), *OPENING).chance_late < 0.5


def test_what_stops_voting_holds_the_opening_up_until_it_is_over() -> None:
    stop = an_interruption("stopped", before(21), exception="no-power", place="P015")
    told = OPENING[:4]
    over = the_end(before(16), exception="no-power", place="P015")
    calm, stopped = of(before(20), *told), of(before(20), *told, stop)
    assert calm.chance_late < 0.15
    assert stopped.chance_late > 0.5
    assert of(before(15), *told, stop, over) == of(before(15), *told)


def test_a_lesser_trouble_counts_for_less_and_no_more_once_the_place_went_on() -> None:
    told = OPENING[:2]
    trouble = an_exception("officers-short", before(33), place="P015")
    calm, troubled = of(before(28), *told), of(before(28), *told, trouble)
    assert calm.chance_late < troubled.chance_late < 0.5
    assert of(before(28), *OPENING[:3], trouble).chance_late == pytest.approx(of(before(28), *OPENING[:3]).chance_late)


def test_what_people_expect_counts_but_not_what_the_clock_itself_concluded() -> None:
    told = OPENING[:2]
    said = an_exception("expected-late", before(30), place="P015")
    clock = raised("expected-late", "open", before(30), place="P015")
    assert of(before(25), *told, said).chance_late > 0.5
    assert of(before(25), *told, clock) == of(before(25), *told)


def test_what_was_done_the_evening_before_leaves_the_night_out() -> None:
    evening = tuple(a_step(e.text("step"), before(hours=11), place="P015", device=e.device) for e in OPENING[:4])
    early, late = of(before(60), *evening), of(before(1), *evening)
    assert early.chance_late < 0.1 < 0.3 < late.chance_late


def test_a_step_on_some_of_the_devices_is_partly_done() -> None:
    begun = [a_step("staffed", before(32)), a_step("site-ready", before(17))]
    seals = [
        a_step("seals-checked", before(15), **{k: v for k, v in e.fields.items() if k != "step"})
        for e in a_full_opening("P014")
        if e.device == "SC-0141" and e.text("step") == "seals-checked"
    ]
    none = of(before(14), *begun, place="P014")
    some = of(before(14), *begun, *seals, place="P014")
    assert none.step == some.step == "seals-checked"
    assert some.chance_late < none.chance_late


def test_places_whose_reports_come_late_are_not_thought_to_stand_still() -> None:
    at_once = [a_step("staffed", before(50), place="P015"), a_step("site-ready", before(35), place="P015")]
    late = [a_step(e.text("step"), e.happened_at, place="P015", received_at=before(22)) for e in at_once]
    assert of(before(21), *late).chance_late < of(before(21), *at_once).chance_late


def test_a_county_that_is_slow_this_morning_is_thought_slow_at_places_that_have_only_begun() -> None:
    begun = (a_step("staffed", before(40), place="P015"),)
    usual, slow = (
        tuple(
            a_step(e.text("step"), before(60) + (e.happened_at - before(50)) * factor, place="P014", device=e.device)
            for e in a_full_opening("P014")
            if e.text("step") in ("staffed", "site-ready", "seals-checked", "powered")
        )
        for factor in (1, 2)
    )
    assert of(before(14), *begun, *slow).middle >= of(before(14), *begun, *usual).middle
    assert of(before(14), *begun, *slow).chance_late > of(before(14), *begun, *usual).chance_late


def test_a_plan_without_steps_before_the_opening_can_be_forecast_too() -> None:
    plan = a_plan(tuple(step for step in PLAN.steps if not step.before_opening))
    said = forecast_openings(
        a_picture(a_note(before(20)), plan=plan).places.values(), paces_of((), plan), plan, before(5)
    )
    assert said["P014"].step == ""
    assert said["P014"].chance_late < 0.05


def test_a_step_that_many_places_wait_for_is_thought_held_up_at_each_of_them() -> None:
    roster = a_roster(
        places=tuple(Place(f"P{n:03}", f"Place {n}") for n in range(30)), devices=(), precincts=(), seals=()
    )
    done = [
        a_step(key, before(m), place=f"P{n:03}") for n in range(30) for key, m in (("staffed", 50), ("site-ready", 35))
    ]
    further = [a_step("powered", before(29), place=f"P{n:03}") for n in range(1, 30)]
    waiting, alone = (
        forecast_openings(Picture.of(roster, PLAN, told).places.values(), PACES, PLAN, before(18))["P000"]
        for told in (done, [*done, *further])
    )
    assert waiting.step == alone.step == "powered"
    assert waiting.chance_late > alone.chance_late
