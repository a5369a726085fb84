"""Ballots left, as told or reckoned, and the hour at which they run out."""

from datetime import datetime, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from county.domain.ballots_left import Supply
from county.domain.entries import Entry
from county.domain.pace import Pace
from county.domain.roster import Place
from tests.builders import CLOSES, a_count, a_roster, a_step, after, an_interruption, the_end
from tests.looking import a_scene

OPEN = a_step("open")
LEFT = st.integers(0, 400)


def left(ballots: int, hours: float, **more: object) -> Entry:
    return a_count(after(hours=hours), ballots_left=ballots, **more)


def last(*entries: Entry) -> Supply:
    return a_scene(*entries).supplies[-1]


def test_four_hundred_gone_in_four_hours_and_two_hundred_left_last_two_hours() -> None:
    supply = last(OPEN, left(600, 4), left(200, 8))
    assert (supply.runs_out_at, supply.of_day) == (after(hours=10), False)
    first, late = supply.band
    assert first is not None
    assert late is not None
    assert after(hours=9.7) < first < after(hours=10) < late < after(hours=10.3)


def test_what_was_delivered_and_the_opening_give_a_pace_from_the_first_count() -> None:
    supply = last(OPEN, left(900, 1))
    assert supply.runs_out_at == after(hours=10)
    assert last(left(900, 1)).pace is None, "not open, so far as is known: one count alone gives no pace"


def test_the_faster_of_the_two_paces_is_taken() -> None:
    assert last(OPEN, left(900, 1), left(700, 2)).runs_out_at == after(hours=5.5)
    slow = last(OPEN, left(700, 1), left(690, 2))
    assert slow.of_day
    assert slow.runs_out_at == after(hours=2) + timedelta(hours=690 / 155)


def going(ballots: int, used: int) -> Supply:
    """So many left at eleven, and so many used in the hour before, without a day around it."""
    at = after(hours=5)
    return Supply(a_count(at), ballots, True, Pace(used, 60, after(hours=4), at), False, CLOSES)


def in_order(one: datetime | None, other: datetime | None) -> bool:
    """Whether one is no later than the other; None is later than any time."""
    return other is None or (one is not None and one <= other)


@given(LEFT, LEFT, st.integers(0, 300))
def test_more_left_never_brings_the_end_nearer(one: int, other: int, used: int) -> None:
    fewer, more = (going(each, used) for each in sorted((one, other)))
    assert in_order(fewer.runs_out_at, more.runs_out_at)
    assert all(in_order(*each) for each in zip(fewer.band, more.band, strict=True))


@given(LEFT, st.integers(0, 300), st.integers(0, 300))
def test_faster_use_never_moves_it_away(ballots: int, one: int, other: int) -> None:
    slow, fast = (going(ballots, used) for used in sorted((one, other)))
    assert in_order(fast.runs_out_at, slow.runs_out_at)
    assert all(in_order(*each) for each in zip(fast.band, slow.band, strict=True))


@given(LEFT, st.integers(0, 300))
def test_the_band_holds_the_middle(ballots: int, used: int) -> None:
    supply = going(ballots, used)
    (first, late), gone = supply.band, supply.runs_out_at
    assert in_order(first, gone)
    assert in_order(gone, late)


@settings(max_examples=24)
@given(st.permutations(range(4)))
def test_the_order_of_arrival_does_not_matter(order: list[int]) -> None:
    told = [OPEN, left(900, 1), left(700, 2), left(650, 3)]
    assert list(a_scene(*(told[each] for each in order)).supplies) == list(a_scene(*told).supplies)


@given(st.lists(st.tuples(st.integers(1, 90), st.integers(0, 120)), min_size=1, max_size=8), st.booleans())
def test_where_plenty_are_left_they_are_never_short(goes: list[tuple[int, int]], stopped: bool) -> None:
    told, minutes, ballots = [OPEN], 0, 500
    for later, fewer in goes:
        minutes, ballots = minutes + later, max(0, ballots - fewer)
        told.append(left(ballots, minutes / 60))
    if stopped:
        told += [an_interruption("stopped", after(minutes / 3)), the_end(after(minutes / 2))]
    scene = a_scene(*told)
    short = [each.short(scene.plan.limits) for each in scene.supplies]
    assert not any(short[number] and scene.supplies.plenty(number) for number in range(len(short)))


def test_plenty_are_left_while_they_last_for_as_long_as_the_county_looks_ahead_at_the_fastest_pace() -> None:
    supplies = a_scene(OPEN, left(900, 1), left(700, 2), left(650, 3), left(550, 4)).supplies
    assert [supplies.plenty(number) for number in range(4)] == [True, True, True, False]


def test_ballots_of_which_none_go_do_not_run_out() -> None:
    supply = last(left(200, 4), left(200, 5))
    assert (supply.runs_out_at, supply.band[1]) == (None, None)
    assert not supply.ends_before(timedelta(hours=9))


def test_ballots_that_were_brought_are_no_use_backwards() -> None:
    topped_up = last(left(500, 1), left(400, 2), left(900, 3), left(800, 4))
    assert topped_up.runs_out_at == after(hours=12)
    at_once = last(left(500, 1), left(400, 2), left(900, 3))
    assert at_once.runs_out_at == after(hours=12), "by the pace of the counts before"


def test_time_in_which_nobody_could_vote_is_left_out() -> None:
    stop = (an_interruption("stopped", after(hours=4)), the_end(after(hours=4.5)))
    assert last(left(300, 4), *stop, left(200, 5)).runs_out_at == after(hours=6)


def test_reckoned_from_delivered_less_scanned_less_what_was_not_scanned() -> None:
    at = after(hours=2)
    told = (
        a_count(at, device="SC-0141", public_counter=200, spoiled=3, provisional=2),
        a_count(at + timedelta(minutes=5), device="SC-0142", public_counter=95),
    )
    supply = last(OPEN, *told)
    assert (supply.left, supply.told, supply.at) == (700, False, at + timedelta(minutes=5))


def test_not_reckoned_while_a_scanner_is_missing_or_nobody_said_what_was_delivered() -> None:
    one = a_count(after(60), device="SC-0141", public_counter=200)
    assert not list(a_scene(OPEN, one).supplies)
    late = a_count(after(80), device="SC-0142", public_counter=95)
    assert not list(a_scene(OPEN, one, late).supplies)
    both = (one, a_count(after(60), device="SC-0142", public_counter=95))
    roster = a_roster(places=(Place("P014", "Mill Creek School"),))
    assert not list(a_scene(OPEN, *both, roster=roster).supplies)
    said = a_count(after(61), device="SC-0142", public_counter=95, ballots_delivered=500)
    assert a_scene(OPEN, *both, said, roster=roster).supplies[-1].left == 205


def test_what_is_told_counts_once_it_is_told() -> None:
    def scanned(hours: float, number: int, **more: object) -> tuple[Entry, ...]:
        at = after(hours=hours)
        return (
            a_count(at, device="SC-0141", public_counter=number, **more),
            a_count(at, device="SC-0142", public_counter=0),
        )

    found = a_scene(OPEN, *scanned(1, 100), *scanned(2, 200, ballots_left=790), *scanned(3, 300)).supplies
    assert [(each.left, each.told) for each in found] == [(900, False), (790, True)]


def test_they_are_needed_until_closing_and_as_long_as_the_last_in_line_waits() -> None:
    assert last(OPEN, left(600, 4)).needed_until == CLOSES
    line = left(200, 8, check_ins=860, in_line=65)
    assert last(OPEN, left(330, 7, check_ins=730), line).needed_until == CLOSES + timedelta(minutes=30)
