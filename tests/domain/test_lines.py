"""The estimated wait: Little's law, how sure the pace is, what is left out of it, and where nothing can be said."""

from datetime import timedelta
from math import inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from county.domain.entries import Entry
from county.domain.lines import Wait, waits
from county.domain.pace import Pace
from county.domain.plan import Limits
from county.domain.rules.scene import Scene
from county.domain.served import Basis
from tests.builders import a_correction, a_count, after, an_interruption, the_end
from tests.looking import a_scene

PEOPLE, HOURLY = st.integers(0, 400), st.integers(0, 380)


def checked_in(minutes: float, check_ins: int, **more: object) -> Entry:
    return a_count(after(minutes), check_ins=check_ins, **more)


def scanned(minutes: float, counter: int, device: str, **more: object) -> Entry:
    return a_count(after(minutes), device=device, public_counter=counter, **more)


def last(*entries: Entry, place: str = "P014") -> Wait:
    """What the last count of the line says."""
    scene: Scene = a_scene(*entries, place=place)
    return scene.waits[-1]


def wait_of(in_line: int, served: int, minutes: float = 60) -> Wait:
    return last(checked_in(60, 10), checked_in(60 + minutes, 10 + served, in_line=in_line))


def estimated(in_line: int, served: int, minutes: float = 60) -> Wait:
    """The same without a day around it."""
    return Wait(a_count(after(120)), in_line, Pace(served, minutes, after(60), after(120)), Basis.CHECK_INS)


def test_thirty_in_line_and_sixty_an_hour_is_half_an_hour() -> None:
    wait = wait_of(30, 60)
    assert (wait.minutes, wait.basis, wait.why) == (30, Basis.CHECK_INS, "")
    assert wait.pace is not None
    assert (wait.pace.an_hour, wait.pace.begins, wait.pace.ends) == (60, after(60), after(120))


def test_few_served_make_a_wide_band_and_many_a_narrow_one() -> None:
    few, many = wait_of(5, 10), wait_of(50, 100)
    assert few.minutes == many.minutes == 30
    assert [round(each) for each in few.band] == [19, 48]
    assert [round(each) for each in many.band] == [26, 34]


@given(PEOPLE, PEOPLE, HOURLY)
def test_more_in_line_never_lowers_the_wait(one: int, other: int, served: int) -> None:
    less, more = (estimated(each, served) for each in sorted((one, other)))
    assert less.minutes <= more.minutes
    assert all(low <= high for low, high in zip(less.band, more.band, strict=True))


@given(PEOPLE, HOURLY, HOURLY)
def test_faster_service_never_raises_it(in_line: int, one: int, other: int) -> None:
    slow, fast = (estimated(in_line, each) for each in sorted((one, other)))
    assert fast.minutes <= slow.minutes
    assert all(low <= high for low, high in zip(fast.band, slow.band, strict=True))


@given(PEOPLE, HOURLY, st.integers(1, 75))
def test_the_band_holds_the_middle(in_line: int, served: int, minutes: int) -> None:
    wait = estimated(in_line, served, minutes)
    assert wait.band[0] <= wait.minutes <= wait.band[1]


@settings(max_examples=30)
@given(st.permutations(range(5)))
def test_the_order_of_arrival_does_not_matter(order: list[int]) -> None:
    told = [checked_in(60 * hour, 50 * hour + hour * hour, in_line=7 * hour) for hour in range(1, 6)]
    assert a_scene(*(told[each] for each in order)).waits == a_scene(*told).waits


def test_nobody_in_line_is_no_wait_whatever_the_pace() -> None:
    wait = last(a_count(after(60), in_line=0))
    assert (wait.known, wait.minutes, wait.band) == (True, 0, (0, 0))


def test_nobody_served_is_a_wait_without_end() -> None:
    wait = wait_of(40, 0)
    assert (wait.minutes, wait.band[1]) == (inf, inf)
    assert 0 < wait.band[0] < inf


@pytest.mark.parametrize(
    ("entries", "why"),
    [
        ((a_count(after(60), in_line=9),), "nobody has been counted a second time yet"),
        ((checked_in(60, 40, in_line=9),), "nobody has been counted a second time yet"),
        (
            (scanned(60, 9, "SC-0141"), scanned(120, 30, "SC-0141", in_line=9)),
            "not every scanner was counted lately",
        ),
        (
            (checked_in(60, 40), checked_in(120, 90), a_count(after(196), in_line=9)),
            "the last counts do not fit or are too old",
        ),
        (
            (
                checked_in(60, 40),
                checked_in(120, 90),
                an_interruption("stopped", after(115)),
                a_count(after(121), in_line=9),
            ),
            "voting was stopped",
        ),
    ],
)
def test_where_nothing_can_be_said_the_reason_is(entries: tuple[Entry, ...], why: str) -> None:
    wait = last(*entries)
    assert (wait.known, wait.why) == (False, why)
    assert not wait.exceeds(0)
    with pytest.raises(ValueError, match="cannot be said"):
        _ = wait.minutes


def test_without_check_ins_the_ballots_of_every_scanner_are_added() -> None:
    told = [scanned(at, count, device) for device in ("SC-0141", "SC-0142") for at, count in ((60, 10), (120, 40))]
    wait = last(*told, a_count(after(120), in_line=30))
    assert (wait.minutes, wait.basis) == (30, Basis.BALLOTS)
    together = wait_of(30, 60).band
    assert wait.band == pytest.approx(together), "two scanners are as sure as one that took as many"


def test_scanners_read_over_other_lengths_of_time_are_added_by_their_pace() -> None:
    told = [
        scanned(60, 0, "SC-0141"),
        scanned(120, 60, "SC-0141"),
        scanned(90, 0, "SC-0142"),
        scanned(120, 30, "SC-0142"),
    ]
    assert last(*told, a_count(after(120), in_line=40)).minutes == pytest.approx(20)


def test_a_total_of_the_place_and_a_lone_scanner_named_or_not_count_alike() -> None:
    total = last(a_count(after(60), public_counter=10), a_count(after(120), public_counter=70, in_line=30))
    assert total.minutes == 30
    named = scanned(60, 10, "SC-0151", place="P015")
    assert last(named, a_count(after(120), public_counter=70, in_line=30, place="P015"), place="P015").minutes == 30


def test_a_counter_that_goes_backwards_or_jumps_is_left_out() -> None:
    for wrong in (7, 7_000):
        told = (checked_in(60, 40), checked_in(120, 100), checked_in(150, wrong), checked_in(180, 160, in_line=30))
        assert last(*told).minutes == 30


def test_where_later_counts_fit_only_the_one_that_did_not_fit_the_earlier_ones_were_wrong() -> None:
    told = (checked_in(60, 4_000), checked_in(120, 100), checked_in(180, 160, in_line=30))
    assert last(*told).minutes == 30


def test_a_correction_counts_instead_of_what_it_corrects() -> None:
    wrong = checked_in(120, 400, in_line=30)
    assert last(checked_in(60, 40), wrong, a_correction(wrong, check_ins=100)).minutes == 30


def test_time_in_which_nobody_could_vote_is_no_time_of_serving() -> None:
    stop = (an_interruption("stopped", after(70)), the_end(after(100)))
    wait = last(checked_in(60, 40), *stop, checked_in(120, 70, in_line=30))
    assert wait.minutes == 30
    impaired = (an_interruption("impaired", after(70)), the_end(after(100)))
    assert last(checked_in(60, 40), *impaired, checked_in(120, 70, in_line=30)).minutes == 60


def test_a_stop_that_nobody_said_is_over_was_over_once_people_are_counted() -> None:
    told = (checked_in(60, 40), an_interruption("stopped", after(65)), checked_in(120, 40, in_line=30))
    assert last(*told).why == "voting was stopped"
    assert last(*told, checked_in(180, 100, in_line=30)).minutes == 30


def test_only_the_last_counts_make_the_pace_with_several_an_hour_the_last_half_hour() -> None:
    hours = [checked_in(60, 10), checked_in(120, 210), checked_in(180, 270, in_line=30)]
    assert last(*hours).minutes == 30
    often = [checked_in(minutes, minutes, in_line=30) for minutes in range(60, 180, 10)]
    pace = last(*often).pace
    assert pace is not None
    assert pace.ends - pace.begins == timedelta(minutes=30)


def test_a_line_told_alone_uses_the_pace_of_the_counts_before_it_while_that_is_not_old() -> None:
    told = (checked_in(60, 40), checked_in(120, 100))
    assert last(*told, a_count(after(195), in_line=30)).minutes == 30
    scene = a_scene(*told, a_count(after(195), in_line=30))
    assert not waits(scene.counted, scene.expected, Limits(count_old_after=timedelta(hours=1)))[-1].known
