"""Custody: what left and what came back, whatever the order of arrival; what nobody told is never good."""

from datetime import timedelta
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from county.domain.custody import Custody, SealState, custody
from county.domain.entries import Entry
from county.domain.intake import take
from county.domain.picture import Picture
from county.errors import Refused
from tests.builders import CLOSES, a_correction, a_hand, a_roster, a_step, raw
from tests.custody import EVERYTHING, a_plan_with_items, all_but
from tests.looking import the_state

PLAN, ROSTER = a_plan_with_items(), a_roster()
MINUTE = timedelta(minutes=1)
LEFT, BACK = CLOSES + 60 * MINUTE, CLOSES + 100 * MINUTE


def custody_of(*entries: Entry) -> Custody:
    state = the_state(*entries, plan=PLAN)
    return custody(state.day.steps, state.expected, PLAN.items)


def a_seal(step: str, number: str, on: str = "SC-0141", **more: object) -> Entry:
    return a_step(
        step, LEFT if step == "departed" else BACK, device=on, seal_position="front", seal_number=number, **more
    )


def test_a_place_of_which_nothing_is_told_has_left_nothing_and_brought_nothing_back() -> None:
    told = custody_of()
    assert (told.left_at, told.back_at, told.way(BACK), told.seals) == (None, None, None, ())
    assert [each.here.name for each in told.items] == list(EVERYTHING)
    assert all(each.left is None and not each.checked and not each.missing for each in told.items)


def test_the_way_is_from_leaving_to_receiving_or_to_now() -> None:
    left = a_step("departed", LEFT, roles=("officer in charge", "polling-place officer"))
    assert custody_of(left).way(LEFT + 25 * MINUTE) == 25 * MINUTE
    told = custody_of(left, a_step("received", BACK, roles=("receiving clerk", "desk lead")))
    assert told.way(BACK + 99 * MINUTE) == BACK - LEFT
    assert told.carried_by == ("officer in charge", "polling-place officer")
    assert told.received_by == ("receiving clerk", "desk lead")


def test_an_item_knows_whether_it_left_and_when_it_came_back() -> None:
    told = custody_of(
        a_step("departed", LEFT, items=all_but("provisional")),
        a_step("received", BACK, items=all_but("keys", "provisional")),
    )
    ways = {each.here.name: (each.left, each.back_at, each.missing) for each in told.items}
    assert ways["keys"] == (True, None, True)
    assert ways["provisional"] == (False, None, False)
    assert ways["memory:SC-0141"] == (True, BACK, False)


@pytest.mark.parametrize(
    ("entries", "state"),
    [
        ([a_seal("departed", "1"), a_seal("received", "1")], SealState.AGREES),
        ([a_seal("departed", "1"), a_seal("received", "2")], SealState.DIFFERS),
        ([a_seal("departed", "1"), a_seal("received", "1", seal_intact=False)], SealState.NOT_WHOLE),
        ([a_seal("received", "2")], SealState.NO_NUMBER),
        ([a_seal("departed", "1")], SealState.NOT_CHECKED),
    ],
)
def test_how_a_seal_came_back(entries: list[Entry], state: SealState) -> None:
    (seal,) = custody_of(*entries).seals
    assert seal.state is state


def test_a_number_put_right_is_the_number() -> None:
    back = a_seal("received", "2")
    (seal,) = custody_of(a_seal("departed", "1"), back, a_correction(back, seal_number="1")).seals
    assert seal.state is SealState.AGREES


_moments = st.sampled_from([LEFT, LEFT, BACK, BACK + 30 * MINUTE])
_said = st.fixed_dictionaries(
    {},
    optional={
        "items": st.lists(st.sampled_from([*EVERYTHING, "memory", "gone"]), max_size=4).map(tuple),
        "items_missing": st.lists(st.sampled_from(EVERYTHING), max_size=2).map(tuple),
        "roles": st.lists(st.sampled_from(["rover", "desk lead"]), max_size=2).map(tuple),
        "device": st.sampled_from(["SC-0141", "GONE-1"]),
        "item": st.sampled_from(["used-ballots", "gone"]),
        "seal_position": st.sampled_from(["front", "FRONT", ""]),
        "seal_number": st.sampled_from(["1", "2"]),
        "seal_intact": st.booleans(),
    },
)
_reports = st.builds(
    lambda step, at, late, said: a_step(step, at, received_at=at + late, **said),
    st.sampled_from(["departed", "received", "closed"]),
    _moments,
    st.sampled_from([timedelta(0), 90 * MINUTE]),
    _said,
)


@given(st.lists(_reports, max_size=8), st.randoms(use_true_random=False))
def test_any_order_and_any_repetition_comes_to_the_same(told: list[Entry], chance: Random) -> None:
    again = [*told, *chance.choices(told, k=len(told))] if told else []
    chance.shuffle(again)
    one, other = (Picture.of(ROSTER, PLAN, each) for each in (told, again))
    assert one.places == other.places
    assert custody_of(*told) == custody_of(*again)


@given(st.lists(_reports, max_size=6), _reports)
def test_a_report_after_everything_else_takes_no_case_off_the_board(told: list[Entry], last: Entry) -> None:
    end = max([BACK, *(entry.received_at for entry in told)]) + MINUTE
    last = a_step(last.text("step"), end, received_at=end, **{k: v for k, v in last.fields.items() if k != "step"})
    before, after = (Picture.of(ROSTER, PLAN, each).cases() for each in (told, [*told, last]))
    raised = {(each.exception, each.device, cause) for each in before for cause in each.reports}
    assert raised <= {(each.exception, each.device, cause) for each in after for cause in each.reports}


@given(st.lists(_reports, max_size=6))
def test_nothing_is_missing_that_was_checked_in_and_nothing_agrees_that_was_not_looked_at(told: list[Entry]) -> None:
    found = custody_of(*told)
    assert all(each.back_at is None for each in found.missing)
    assert all(each.found and each.put_on for each in found.seals if each.state is SealState.AGREES)


@pytest.mark.parametrize(
    ("fields", "problem"),
    [
        ({"items": ["memory:SC-0151"]}, "no such item here: 'memory:SC-0151'"),
        ({"items": ["ballot-boxes"]}, "the plan lists no item 'ballot-boxes'"),
        ({"items_missing": ["keys:SC-0141"]}, "no such item here: 'keys:SC-0141'"),
        ({"item": "nothing", "seal_number": "1"}, "the plan lists no item 'nothing'"),
        ({"item": "keys", "device": "SC-0141", "seal_number": "1"}, "a seal is on a device or on an item, not on both"),
        ({"seal_number": "1"}, "is needed with seal_number"),
        ({"roles": ["Ann Lee", "rover"]}, "'Ann Lee' is none of: "),
    ],
)
def test_what_the_plan_does_not_know_and_every_name_is_refused(fields: dict[str, object], problem: str) -> None:
    with pytest.raises(Refused) as refused:
        take(raw("step", step="received", **fields), a_hand(BACK), ROSTER, PLAN)
    assert problem in refused.value.problems[0].says


def test_what_the_plan_knows_is_taken() -> None:
    said = {"items": list(EVERYTHING), "items_missing": ["keys"], "roles": ["rover", "desk lead"]}
    entry = take(raw("step", step="received", **said), a_hand(BACK), ROSTER, PLAN)
    assert entry.fields["items"] == EVERYTHING
    sealed = take(raw("step", step="departed", item="used-ballots", seal_number=7), a_hand(BACK), ROSTER, PLAN)
    assert (sealed.text("item"), sealed.text("seal_number")) == ("used-ballots", "7")
