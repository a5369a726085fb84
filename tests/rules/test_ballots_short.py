"""ballots-short: by a count the ballots are gone before everybody has voted, and so soon that the county acts."""

from datetime import timedelta

from county.domain.cases import State
from county.domain.effects import Effect
from county.domain.entries import Entry
from tests.builders import a_count, a_plan, a_step, after, an_exception
from tests.looking import found_by, the_case

CASE = "P014.ballots-short"
OPEN = a_step("open")
HOUR = timedelta(hours=1)


def left(ballots: int, hours: float) -> Entry:
    return a_count(after(hours=hours), ballots_left=ballots)


def test_it_says_when_they_are_gone_and_until_when_they_are_needed() -> None:
    (finding,) = found_by("ballots-short", OPEN, left(600, 4), left(200, 8))
    assert (
        finding.says == "200 ballots left, gone about 16:00 (15:52 to 16:08), at the last counts' pace of 100 an hour"
    )
    assert finding.expected == "until 19:00, closing and the line"
    assert finding.found == "until about 16:00 (15:52 to 16:08)"
    assert (finding.effect, finding.since, finding.clears_at) == (Effect.AT_RISK, after(hours=8), None)


def test_the_faster_of_the_days_pace_and_the_last_counts_is_taken() -> None:
    _, slow = found_by("ballots-short", OPEN, left(200, 8), left(200, 9))
    assert slow.says.endswith("at the day's pace of 89 an hour")
    (quick,) = found_by("ballots-short", OPEN, left(600, 8), left(300, 9))
    assert quick.says.endswith("at the last counts' pace of 300 an hour")


def test_what_is_gone_later_than_the_county_acts_on_is_left_alone() -> None:
    told = (OPEN, left(600, 4))
    assert found_by("ballots-short", *told) == []
    assert len(found_by("ballots-short", *told, plan=a_plan(ballots_ahead=6 * HOUR))) == 1


def test_ballots_that_last_past_closing_are_enough_unless_the_county_wants_a_margin() -> None:
    told = (OPEN, left(400, 6), left(190, 11))
    assert found_by("ballots-short", *told) == []
    assert len(found_by("ballots-short", *told, plan=a_plan(ballots_margin=HOUR))) == 1


def test_the_line_at_the_time_of_the_count_needs_ballots_too() -> None:
    line = a_count(after(hours=11), ballots_left=190, check_ins=850, in_line=60)
    told = (OPEN, a_count(after(hours=10), ballots_left=250, check_ins=790), line)
    (finding,) = found_by("ballots-short", *told)
    assert finding.expected == "until 20:00, closing and the line"


def test_more_ballots_or_fewer_voters_clear_it_and_none_left_does_not() -> None:
    told = (OPEN, left(600, 4), left(200, 8))
    assert found_by("ballots-short", *told, left(0, 9))[0].clears_at is None
    (topped_up,) = found_by("ballots-short", *told, left(700, 8.5))
    assert (topped_up.clears_at, topped_up.clears_says) == (after(hours=8.5), "by a later count they last")


def test_the_close_of_the_place_clears_it() -> None:
    (finding,) = found_by("ballots-short", OPEN, left(600, 4), left(200, 8), a_step("closed", after(hours=13)))
    assert (finding.clears_at, finding.clears_says) == (after(hours=13), "the last voter has voted")


def test_what_people_report_is_not_cleared_by_a_total_because_a_style_may_run_out() -> None:
    told = (OPEN, an_exception("ballots-short", after(60), note="style 3 is short"), left(600, 4), left(590, 5))
    assert the_case(CASE, *told).state is State.RAISED


def test_ballots_that_are_not_told_are_reckoned_from_what_was_delivered_and_used() -> None:
    def scanned(hours: float, one: int, other: int) -> tuple[Entry, ...]:
        at = after(hours=hours)
        return (
            a_count(at, device="SC-0141", public_counter=one, spoiled=10),
            a_count(at, device="SC-0142", public_counter=other),
        )

    (finding,) = found_by("ballots-short", OPEN, *scanned(4, 200, 190), *scanned(8, 400, 390))
    assert finding.says.startswith("200 ballots left, gone about 16:00")


def test_a_place_that_counts_each_minute_says_it_again_after_half_an_hour_or_where_they_go_half_an_hour_sooner() -> (
    None
):
    steady = [left(260 - minute, 6 + minute / 60) for minute in range(61)]
    found = found_by("ballots-short", OPEN, left(620, 0.01), *steady)
    assert [each.since for each in found] == [after(hours=6), after(hours=6.5), after(hours=7)]
    (first, sooner) = found_by("ballots-short", OPEN, left(600, 4), left(200, 8), left(90, 8.1))
    assert (first.since, sooner.since) == (after(hours=8), after(hours=8.1))
