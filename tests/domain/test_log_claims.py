"""Each claim about a device beside its own log: agrees, differs by so much, or the log does not say."""

from dataclasses import replace
from datetime import timedelta
from types import MappingProxyType

import pytest
from hypothesis import given
from hypothesis import strategies as st

from county.domain.entries import Entry
from county.domain.expected import expected_at
from county.domain.log_claims import LogClaim, PowerLoss, Verdict, log_claims, power_losses
from county.domain.log_milestones import LogMaps, Milestone
from county.domain.place_day import PlaceDay, fold
from tests.builders import a_plan, a_roster, a_step, after, an_interruption, the_end
from tests.domain.logs import IDS, MAPS, MODEL, WINDOW, ZONE, a_device

DEVICE = "SC-0141"
ZERO = a_step("zero-report", after(-16), device=DEVICE)
OPEN = a_step("open", after(0))
CLOSED = a_step("closed", after(780))


def day(*entries: Entry) -> PlaceDay:
    return fold(expected_at(a_roster().place_by_id["P014"], a_roster(), a_plan()), entries)


def claims(told: PlaceDay, *events: tuple[str, float], maps: LogMaps = MAPS) -> dict[str, LogClaim]:
    found = log_claims(a_device(*events), told, DEVICE, maps, ZONE, WINDOW)
    return {claim.what: claim for claim in found}


@pytest.mark.parametrize(
    ("minutes", "verdict", "clock"),
    [
        (0, Verdict.AGREES, False),
        (2, Verdict.AGREES, False),
        (-2, Verdict.AGREES, False),
        (2.1, Verdict.DIFFERS, False),
        (54, Verdict.DIFFERS, False),
        (55, Verdict.DIFFERS, True),
        (-60, Verdict.DIFFERS, True),
        (65, Verdict.DIFFERS, True),
        (66, Verdict.DIFFERS, False),
    ],
)
def test_an_opening_agrees_within_two_minutes_and_an_hour_off_asks_about_the_clock(
    minutes: float, verdict: Verdict, clock: bool
) -> None:
    claim = claims(day(OPEN), ("O", minutes))["opened"]
    assert (claim.verdict, claim.ahead, claim.clock_not_changed) == (verdict, timedelta(minutes=minutes), clock)


def test_a_log_without_a_zero_check_does_not_say_and_never_agrees() -> None:
    claim = claims(day(ZERO, OPEN), ("O", 0))["zero-report"]
    assert (claim.verdict, claim.says, claim.log_at) == (Verdict.LOG_SILENT, "no zero-check in the log", None)


def test_what_the_map_does_not_name_is_said_to_be_the_maps_silence() -> None:
    maps = LogMaps(MappingProxyType({MODEL: MappingProxyType({"O": Milestone.OPENED})}))
    claim = claims(day(ZERO, OPEN), ("O", 0), ("Z", -16), maps=maps)["zero-report"]
    assert (claim.verdict, claim.says) == (Verdict.LOG_SILENT, "the plan's map names no id for a zero-check")


def test_an_unmapped_id_is_never_guessed() -> None:
    assert claims(day(OPEN), ("POLLS-OPENED", 0))["opened"].verdict is Verdict.LOG_SILENT


def test_what_nobody_reported_is_said() -> None:
    claim = claims(day(), ("O", 3))["opened"]
    assert (claim.verdict, claim.reported_at, claim.log_at) == (Verdict.NOT_REPORTED, None, after(3))


def test_a_failed_try_and_another_day_do_not_count() -> None:
    tried = replace(a_device(("O", 0)).events[0], disposition="failure")
    failed = replace(a_device(), events=(tried, *a_device(("B", 1), ("O", 9)).events))
    for log, at in ((a_device(("O", -60 * 24 * 4), ("O", 0)), after(0)), (failed, after(9))):
        found = log_claims(log, day(OPEN), DEVICE, MAPS, ZONE, WINDOW)
        assert next(claim for claim in found if claim.what == "opened").log_at == at


def test_the_first_opening_and_the_last_closing_count_and_the_rest_is_said() -> None:
    found = claims(day(OPEN, CLOSED), ("O", 0), ("C", 300), ("O", 302), ("C", 781))
    assert (found["opened"].log_at, found["closed"].log_at) == (after(0), after(781))
    assert found["opened"].says == "2 times in the log; the first counts"
    assert found["closed"].says == "2 times in the log; the last counts"


def test_a_power_loss_reported_is_held_against_the_nearest_in_the_log() -> None:
    told = day(
        an_interruption("impaired", after(100), exception="no-power", device=DEVICE),
        the_end(after(130), exception="no-power", device=DEVICE),
    )
    found = claims(told, ("L", 99), ("L", 110), ("W", 115), ("M", 141))
    assert (found["power-lost"].verdict, found["power-lost"].ahead) == (Verdict.AGREES, timedelta(minutes=-1))
    assert (found["power-restored"].verdict, found["power-restored"].ahead) == (Verdict.DIFFERS, timedelta(minutes=11))


def test_a_power_loss_that_nobody_reported_is_shown() -> None:
    found = claims(day(OPEN), ("O", 0), ("L", 200), ("M", 260))
    assert (found["power-lost"].verdict, found["power-lost"].log_at) == (Verdict.NOT_REPORTED, after(200))
    assert found["power-restored"].log_at == after(260)


def test_a_power_loss_reported_far_from_any_in_the_log_is_two_things() -> None:
    told = day(an_interruption("stopped", after(400), exception="no-power"))
    found = log_claims(a_device(("L", 99), ("M", 120)), told, DEVICE, MAPS, ZONE, WINDOW)
    assert [(claim.what, claim.verdict) for claim in found if claim.what == "power-lost"] == [
        ("power-lost", Verdict.LOG_SILENT),
        ("power-lost", Verdict.NOT_REPORTED),
    ]


def test_power_lost_twice_is_two_stretches_and_the_last_may_not_end() -> None:
    log = a_device(("L", 10), ("M", 20), ("M", 21), ("L", 30), ("L", 31))
    assert power_losses(log, MAPS, ZONE, WINDOW) == (PowerLoss(after(10), after(20)), PowerLoss(after(30), None))


@given(st.lists(st.tuples(st.sampled_from(sorted(IDS)), st.integers(-300, 900)), max_size=12))
def test_a_verdict_is_agrees_only_where_both_times_are_there_and_near(events: list[tuple[str, int]]) -> None:
    for claim in claims(day(ZERO, OPEN, CLOSED), *events).values():
        near = (
            claim.reported_at is not None
            and claim.log_at is not None
            and abs(claim.log_at - claim.reported_at) <= timedelta(minutes=2)
        )
        assert (claim.verdict is Verdict.AGREES) is near
