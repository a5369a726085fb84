"""How places close: worst first, every place once, and nothing that was not told is good."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from county.domain.ballot_accounts import county_balance, last_account
from county.domain.closing import ClosingStage, InLine, PlaceClosing, closing_of, closings
from county.domain.entries import Entry
from tests.builders import CLOSES, a_count, a_full_opening, a_step, an_action
from tests.custody import EVERYTHING, a_plan_with_items, all_but
from tests.looking import a_picture, the_state

MINUTE = timedelta(minutes=1)
PLAN = a_plan_with_items()
CLOSED = a_step("closed", CLOSES, in_line=12)


def at(minutes: float) -> datetime:
    """So long after 19:00, when P014 closes."""
    return CLOSES + minutes * MINUTE


def told(*entries: Entry, minutes: float) -> PlaceClosing:
    picture = a_picture(*a_full_opening(), *entries, plan=PLAN)
    return closing_of(picture.at("P014", at(minutes)), PLAN, at(minutes))


def balanced(minutes: float = 60, **said: int) -> tuple[Entry, ...]:
    """Both scanners' results, 300 and 200, and the balance."""
    results = [
        a_step("results-printed", at(20), device=device, public_counter=count)
        for device, count in (("SC-0141", 300), ("SC-0142", 200))
    ]
    return (*results, a_step("balanced", at(minutes), **said))


LEFT = a_step("departed", at(70), items=EVERYTHING, roles=("officer in charge", "rover"))
BACK = a_step("received", at(100), items=EVERYTHING, roles=("receiving clerk", "desk lead"))
OUT = balanced(ballots_left=497)


@pytest.mark.parametrize(
    ("entries", "minutes", "stage"),
    [
        ((), -1, ClosingStage.STILL_OPEN),
        ((), 0, ClosingStage.NOT_CLOSED),
        ((), 900, ClosingStage.NOT_CLOSED),
        ((CLOSED,), 10, ClosingStage.LINE),
        ((replace(CLOSED, fields={"step": "closed"}),), 10, ClosingStage.CLOSING),
        ((CLOSED, a_step("last-voter", at(20))), 25, ClosingStage.CLOSING),
        ((CLOSED, *balanced(ballots_left=500)), 65, ClosingStage.CLOSING),
        ((CLOSED, *OUT), 65, ClosingStage.OUT_OF_BALANCE),
        ((CLOSED, *balanced(ballots_left=500), LEFT), 80, ClosingStage.ON_THE_WAY),
        ((CLOSED, *balanced(ballots_left=500), LEFT, BACK), 101, ClosingStage.BACK),
        ((CLOSED, *OUT, LEFT, BACK), 101, ClosingStage.OUT_OF_BALANCE),
        ((CLOSED, a_step("last-voter", at(20))), 60, ClosingStage.OVERDUE),
        ((CLOSED, a_step("last-voter", at(20))), 240, ClosingStage.PAST_CUT_OFF),
        ((CLOSED, LEFT, replace(BACK, fields={**BACK.fields, "items": all_but("keys")})), 101, ClosingStage.IN_DOUBT),
    ],
)
def test_each_place_stands_at_the_worst_that_is_known(
    entries: tuple[Entry, ...], minutes: float, stage: ClosingStage
) -> None:
    assert told(*entries, minutes=minutes).stage is stage


def test_a_place_nobody_has_heard_from_is_not_closed_and_its_line_is_not_known() -> None:
    picture = a_picture(plan=PLAN)
    found = closing_of(picture.at("P014", at(25)), PLAN, at(25))
    assert (found.stage, found.minutes_over, found.line, found.difference) == (ClosingStage.NOT_CLOSED, 25, None, None)


def test_how_many_are_in_line_is_what_was_told_last() -> None:
    found = told(a_count(at(-30), in_line=40), a_count(at(5), in_line=22), minutes=8)
    assert found.line == InLine(22, at(5))
    assert found.still_in_line is None, "not closed: they are counted with it"
    assert told(CLOSED, a_count(at(5), in_line=7), minutes=8).still_in_line == 7
    assert told(CLOSED, a_count(at(5), in_line=0), minutes=8).still_in_line is None


def test_what_came_back_closed_before_even_where_nobody_told_it() -> None:
    found = told(LEFT, BACK, minutes=101)
    assert found.closed
    assert found.minutes_over == 0


def test_a_person_who_has_ended_the_case_takes_the_place_from_the_top() -> None:
    missing = replace(BACK, fields={**BACK.fields, "items": all_but("keys")})
    cleared = an_action("P014.item-missing", "clear", at(110))
    found = told(CLOSED, LEFT, missing, cleared, minutes=120)
    assert found.stage is not ClosingStage.IN_DOUBT
    assert [each.here.name for each in found.custody.missing] == ["keys"], "that it was missing stays said"


def test_the_worst_stands_first_and_every_place_is_there_once() -> None:
    picture = a_picture(*a_full_opening(), CLOSED, a_step("closed", at(0), place="P015"), plan=PLAN)
    found = closings(picture.everywhere(at(70)), PLAN, at(70))
    assert [(each.now.place.place, each.stage) for each in found] == [
        ("P016", ClosingStage.NOT_CLOSED),
        ("P014", ClosingStage.LINE),
        ("P015", ClosingStage.OVERDUE),
    ]


def test_net_lets_differences_cancel_and_absolute_does_not() -> None:
    differences = []
    for left in (497, 501, None):
        state = the_state(*balanced(**({} if left is None else {"ballots_left": left})), plan=PLAN)
        differences.append(last_account(state.day.steps, state.expected))
    over, known = county_balance([*differences, None])
    assert (over.net, over.absolute, known) == (-3 + 1, 4, 2)


def test_check_ins_are_held_against_what_was_scanned_and_what_nobody_told_is_none() -> None:
    state = the_state(*balanced(ballots_left=500, check_ins=499, spoiled=0), plan=PLAN)
    account = last_account(state.day.steps, state.expected)
    assert account is not None
    assert (account.over_check_ins, account.difference, account.not_scanned_told) == (1, 0, True)
    state = the_state(*balanced(), plan=PLAN)
    account = last_account(state.day.steps, state.expected)
    assert account is not None
    assert (account.over_check_ins, account.difference, account.not_scanned_told) == (None, None, False)
    assert account.not_told == ("ballots left",)
