"""long-line: a count by which the estimated wait is longer than the plan's limit; a later shorter one clears it."""

from county.domain.cases import State
from county.domain.effects import Effect
from county.domain.entries import Entry
from tests.builders import a_correction, a_count, a_plan, a_step, after, an_exception
from tests.looking import found_by, the_case, the_cases

CASE = "P014.long-line"


def counted(minutes: float, check_ins: int, in_line: int, **more: object) -> Entry:
    return a_count(after(minutes), check_ins=check_ins, in_line=in_line, **more)


FIRST = counted(60, 60, 5)


def test_a_longer_wait_than_the_plan_allows_raises_it_with_what_was_expected_and_found() -> None:
    last = counted(120, 120, 46)
    (finding,) = found_by("long-line", FIRST, last)
    assert finding.says == "wait estimated 46 min (39 to 55); the county acts at 30"
    assert (finding.expected, finding.found) == ("at most 30 min", "46 min (39 to 55), 46 in line")
    assert (finding.effect, finding.since, finding.cause) == (Effect.IMPAIRED, after(120), last.key)
    assert finding.clears_at is None


def test_as_long_as_the_plan_allows_does_not() -> None:
    assert found_by("long-line", FIRST, counted(120, 120, 30)) == []
    assert found_by("long-line", FIRST, counted(120, 120, 46), plan=a_plan(wait_minutes=60)) == []


def test_a_line_whose_pace_is_not_known_raises_nothing() -> None:
    assert found_by("long-line", counted(60, 60, 400)) == []
    assert found_by("long-line", FIRST, a_count(after(300), in_line=400)) == []


def test_nobody_served_raises_it_once_the_wait_is_long_by_all_that_is_likely() -> None:
    (finding,) = found_by("long-line", FIRST, counted(120, 60, 40))
    assert finding.says == "wait estimated more than 1042 min: nobody was served in 60 min; the county acts at 30"
    assert found_by("long-line", FIRST, counted(64, 60, 4)) == []


def test_a_later_shorter_wait_clears_it_and_one_that_is_not_known_does_not() -> None:
    told = (FIRST, counted(120, 120, 46), a_count(after(130), in_line=0, device="SC-0141"), counted(180, 200, 50))
    first, second = found_by("long-line", *told[:2], told[3], counted(240, 280, 10))
    assert (first.clears_at, second.clears_at) == (after(240), after(240))
    assert first.clears_says == "a later count shows a shorter wait"
    assert found_by("long-line", FIRST, counted(120, 120, 46), a_count(after(240), in_line=40))[0].clears_at is None


def test_the_close_of_the_place_clears_it_where_the_plan_has_no_step_for_the_last_voter() -> None:
    (finding,) = found_by("long-line", FIRST, counted(120, 120, 46), a_step("closed", after(hours=13)))
    assert (finding.clears_at, finding.clears_says) == (after(hours=13), "the last voter has voted")


def test_a_reported_line_and_a_reckoned_one_are_one_case_and_end_together() -> None:
    told = (FIRST, an_exception("long-line", after(100), note="round the corner"), counted(120, 120, 46))
    assert list(the_cases(*told)) == [CASE]
    case = the_case(CASE, *told)
    assert case.says == "Long line: round the corner; wait estimated 46 min (39 to 55); the county acts at 30"
    assert (case.state, case.raised_at) == (State.RAISED, after(100))
    assert the_case(CASE, *told, counted(180, 200, 4)).state is State.CLEARED


def test_a_reported_line_is_over_once_a_later_count_shows_a_short_wait() -> None:
    reported = an_exception("long-line", after(100))
    assert the_case(CASE, FIRST, reported, counted(120, 120, 4)).cleared_at == after(120)
    assert the_case(CASE, FIRST, counted(90, 90, 4), reported).state is State.RAISED
    assert the_case(CASE, reported, a_count(after(120), in_line=40)).state is State.RAISED


def test_a_count_put_right_ends_the_case_and_does_not_hide_it() -> None:
    wrong = counted(120, 120, 460)
    case = the_case(CASE, FIRST, wrong, a_correction(wrong, in_line=6))
    assert case.state is State.WITHDRAWN


def test_what_is_reported_later_of_an_earlier_time_changes_nothing_that_was_found() -> None:
    told = (FIRST, counted(120, 120, 46))
    late = an_exception("scanner-jam", after(300), since="2026-11-03T13:00:00Z")
    assert found_by("long-line", *told, late) == found_by("long-line", *told)


def test_a_place_that_counts_each_minute_says_it_again_after_half_an_hour_or_where_it_is_half_as_bad_again() -> None:
    steady = [counted(120 + minute, 120 + minute, 46) for minute in range(61)]
    assert [each.since for each in found_by("long-line", FIRST, *steady)] == [after(120), after(150), after(180)]
    worse = [counted(120, 120, 46), counted(121, 121, 60), counted(122, 122, 75)]
    assert [each.since for each in found_by("long-line", FIRST, *worse)] == [after(120), after(122)]


def test_after_a_shorter_wait_a_longer_one_is_found_at_once() -> None:
    told = (FIRST, counted(120, 120, 46), counted(125, 125, 10), counted(130, 130, 46))
    assert [each.since for each in found_by("long-line", *told)] == [after(120), after(130)]
