"""The lines and ballots of a made-up day: a rush in the morning, at noon and after work; few long lines, few cases."""

from functools import cache

import pytest

from county.domain.cases import Case
from county.domain.effects import Effect
from county.domain.picture import Picture
from county.rehearsal.crowds import busy
from county.rehearsal.day import made_up_day
from county.rehearsal.luck import WHOLE_DAY
from tests.rehearsal.days import entries_of, sample_county, sample_plan

PLACES = len(sample_county().places)


@cache
def a_day(regime: str) -> Picture:
    entries = entries_of(made_up_day(sample_county(), sample_plan(), regime, 1, WHOLE_DAY))
    return Picture.of(sample_county(), sample_plan(), entries)


def of_kind(regime: str, exception: str) -> list[Case]:
    return [case for case in a_day(regime).cases() if case.exception == exception]


def test_the_rushes_are_the_busiest_and_the_day_as_a_whole_brings_as_many_as_it_should() -> None:
    hours = [busy((hour + 0.5) / 13) for hour in range(13)]
    assert hours[1] > hours[6] > hours[4]
    assert hours[10] > hours[8]
    assert sum(hours) / 13 == pytest.approx(1, abs=0.02)


def test_an_ordinary_day_raises_no_flood_of_cases() -> None:
    assert 1 <= len({case.place for case in of_kind("normal", "long-line")}) <= PLACES / 6
    assert len(of_kind("normal", "ballots-short")) <= 3
    assert of_kind("normal", "ballots-out") == []


def test_on_a_rough_day_counts_show_long_lines_and_a_place_short_of_ballots() -> None:
    assert any("wait estimated" in case.says for case in of_kind("rough", "long-line"))
    reckoned = [case for case in of_kind("rough", "ballots-short") if "ballots left" in case.says]
    assert 1 <= len(reckoned) <= 3
    assert {case.effect for case in reckoned} == {Effect.AT_RISK}
    assert all(not case.state.open for case in reckoned), "more were brought"


@pytest.mark.parametrize("regime", ["normal", "rough"])
def test_nearly_every_wait_can_be_told_from_the_second_count_on_and_most_are_short(regime: str) -> None:
    waits = [state.wait for state in a_day(regime).places.values() if state.wait]
    known = [wait.minutes for wait in waits if wait.known]
    assert len(known) >= 0.95 * len(waits)
    assert sorted(known)[len(known) // 2] < 10
