"""A made-up day is the same for the same seed, plays what it should, and says nothing that a place could not say."""

import re
from collections import Counter
from dataclasses import replace
from datetime import timedelta

import pytest

from county.domain.custody import SealState, custody
from county.domain.expected import expected_of
from county.domain.intake import Hand, content, take
from county.domain.picture import Picture
from county.errors import Refused
from county.rehearsal.day import made_up_day
from county.rehearsal.luck import WHOLE_DAY
from county.rehearsal.regimes import REGIMES
from county.rehearsal.roster import made_up_county
from county.rehearsal.sent import DROP, ENDPOINT, Sent
from county.rehearsal.starting import begins_at
from tests.rehearsal.days import entries_of, openings, sample_county, sample_plan

EACH_REGIME = pytest.mark.parametrize("regime", REGIMES)


def a_day(regime: str = "rough", seed: int = 1, hours: int = 3) -> tuple[Sent, ...]:
    return made_up_day(sample_county(), sample_plan(), regime, seed, hours)


@EACH_REGIME
def test_the_same_seed_is_the_same_day(regime: str) -> None:
    assert a_day(regime, 7) == a_day(regime, 7)


def test_another_seed_and_another_regime_are_other_days() -> None:
    keys = [
        frozenset(str(sent.raw["key"]) for sent in a_day(*which))
        for which in (("rough", 1), ("rough", 2), ("normal", 1))
    ]
    assert not keys[0] & keys[1]
    assert not keys[0] & keys[2]


def test_the_order_of_the_roster_does_not_change_the_day() -> None:
    county = sample_county()
    turned = replace(county, places=county.places[::-1])
    assert made_up_day(turned, sample_plan(), "rough", 1) == a_day()


@EACH_REGIME
def test_it_is_in_the_order_of_sending_and_begins_after_its_clock(regime: str) -> None:
    times = [sent.at for sent in a_day(regime)]
    assert times == sorted(times)
    assert times[0] >= begins_at(sample_plan(), sample_county())
    assert all(at.utcoffset() == timedelta() for at in times)


def test_every_place_tells_from_its_staffing_to_three_hours_after_its_own_opening() -> None:
    expected = expected_of(sample_county(), sample_plan())
    counted = Counter(str(sent.raw["place"]) for sent in a_day("normal") if "check_ins" in sent.raw and not sent.plays)
    assert counted
    for sent in a_day("normal"):
        if sent.raw["place"] in expected and not sent.is_mistake:
            opens_at = expected[str(sent.raw["place"])].opens_at
            assert opens_at - timedelta(minutes=80) <= sent.at <= opens_at + timedelta(hours=3, minutes=45)


def test_counts_come_hourly_and_never_fall() -> None:
    counters: dict[object, list[int]] = {}
    for sent in a_day("normal", seed=4):
        if sent.plays == "count":
            assert re.search(r"T\d\d:00:00", str(sent.raw["happened_at"]))
            counters.setdefault(sent.raw["device"], []).append(int(str(sent.raw["public_counter"])))
    assert len(counters) > 60
    assert all(told == sorted(told) for told in counters.values())


@EACH_REGIME
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_intake_takes_every_report_but_the_mistakes(regime: str, seed: int) -> None:
    mistakes = 0
    for sent in a_day(regime, seed):
        hand = Hand("desk:rehearsal", "rehearsal", sent.how, sent.at)
        if sent.is_mistake:
            mistakes += 1
            with pytest.raises(Refused):
                take(sent.raw, hand, sample_county(), sample_plan())
        else:
            take(sent.raw, hand, sample_county(), sample_plan())
    assert mistakes


def test_only_what_is_sent_twice_or_in_conflict_repeats_a_key() -> None:
    held: dict[str, str] = {}
    for sent in a_day():
        if sent.is_mistake:
            continue
        entry = take(sent.raw, Hand("d", "d", sent.how, sent.at), sample_county(), sample_plan())
        if sent.plays == "same key, other content":
            assert held[entry.key] != content(entry)
        elif sent.plays == "sent twice":
            assert held[entry.key] == content(entry)
        else:
            assert entry.key not in held
            held[entry.key] = content(entry)


@pytest.mark.parametrize(
    "plays",
    [
        "seal mismatch",
        "nonzero start",
        "narrow route",
        "scanner-jam",
        "no-power",
        "on-battery",
        "long-line",
        "sent twice",
        "queued offline",
        "same key, other content",
        "opening time put right",
        "clock an hour ahead",
    ],
)
@EACH_REGIME
def test_a_county_of_some_size_meets_this_on_every_day(regime: str, plays: str) -> None:
    for seed in (1, 2, 3):
        assert any(sent.plays == plays for sent in a_day(regime, seed)), f"not on day {seed}"


@EACH_REGIME
def test_some_reports_come_by_the_drop_folder_and_most_by_the_endpoint(regime: str) -> None:
    ways = Counter(sent.how for sent in a_day(regime))
    assert set(ways) == {ENDPOINT, DROP}
    assert ways[ENDPOINT] > 5 * ways[DROP]


def test_power_that_was_lost_comes_back() -> None:
    day = made_up_day(made_up_county(300), sample_plan(), "rough", 1)
    begun = {sent.raw["place"] for sent in day if sent.plays == "no-power"}
    over = {sent.raw["place"]: sent.raw for sent in day if sent.plays == "no-power over"}
    assert begun
    assert over.keys() & begun
    assert all(raw["kind"] == "interruption" and raw["ends"] is True for raw in over.values())


def test_a_queue_kept_offline_arrives_in_a_burst_and_not_in_its_order() -> None:
    queues: dict[object, list[Sent]] = {}
    for sent in made_up_day(made_up_county(300), sample_plan(), "rough", 1):
        if sent.plays == "queued offline":
            queues.setdefault(sent.raw["place"], []).append(sent)
    long = [queue for queue in queues.values() if len(queue) >= 4]
    assert long
    assert all(queue[-1].at - queue[0].at < timedelta(seconds=10) for queue in long)
    assert any([s.raw["key"] for s in queue] != sorted(str(s.raw["key"]) for s in queue) for queue in long)


def test_a_clock_that_was_not_changed_is_an_hour_ahead_of_the_sending() -> None:
    ahead = [sent for sent in a_day() if sent.plays == "clock an hour ahead"]
    for sent in ahead:
        raw = take(sent.raw, Hand("d", "d", "endpoint", sent.at), sample_county(), sample_plan())
        assert raw.stamp == "clock-ahead"


def test_some_places_are_never_heard_from_and_some_fall_silent() -> None:
    county = made_up_county(400)
    day = made_up_day(county, sample_plan(), "rough", 1)
    last = {str(sent.raw["place"]): sent.at for sent in day if not sent.is_mistake}
    opens_at = begins_at(sample_plan(), county) + timedelta(minutes=80)
    never = [place for place in county.place_by_id if place not in last]
    silent = [place for place, at in last.items() if at < opens_at + timedelta(minutes=75)]
    assert 0.01 <= len(never) / 400 <= 0.03
    assert 0.01 <= len(silent) / 400 <= 0.06


def test_there_is_about_one_call_a_place_up_to_three_hours_after_opening() -> None:
    day = made_up_day(made_up_county(500), sample_plan(), "rough", 1)
    calls = {sent.raw["key"] for sent in day if sent.raw.get("kind") in ("exception", "interruption", "note")}
    over = {sent.raw["key"] for sent in day if sent.raw.get("ends")}
    assert 0.8 <= len(calls - over) / 500 <= 1.2


def test_longer_days_go_on_as_the_shorter_ones_began() -> None:
    # what is drawn for later hours does not shift the first ones
    assert openings(a_day(hours=12)) == openings(a_day(hours=3))
    assert len(a_day(hours=12)) > 1.5 * len(a_day(hours=3))


@pytest.mark.parametrize("places", [1, 2, 5, 23])
@EACH_REGIME
def test_a_county_of_any_size_has_a_day(regime: str, places: int) -> None:
    county = made_up_county(places)
    for seed in range(5):
        for sent in made_up_day(county, sample_plan(), regime, seed):
            if not sent.is_mistake:
                take(sent.raw, Hand("d", "d", sent.how, sent.at), county, sample_plan())


def test_a_whole_day_ends_with_every_closing_step_and_goes_on_as_the_shorter_one_began() -> None:
    whole = a_day("normal", hours=WHOLE_DAY)
    assert openings(whole) == openings(a_day("normal"))
    ended = {str(sent.raw["place"]) for sent in whole if sent.raw.get("step") == "balanced" and not sent.is_mistake}
    received = {str(sent.raw["place"]) for sent in whole if sent.raw.get("step") == "received"}
    assert len(ended) >= 46
    assert ended - received
    assert not any(sent.raw.get("step") == "closed" for sent in a_day("normal"))


def test_the_papers_of_a_place_balance_but_for_a_few_where_it_is_written_down() -> None:
    whole = a_day("normal", hours=WHOLE_DAY)
    picture = Picture.of(sample_county(), sample_plan(), entries_of(whole))
    out = {case.place for case in picture.cases() if case.exception == "out-of-balance"}
    noted = {str(sent.raw["place"]) for sent in whole if sent.raw.get("step") == "balanced" and "note" in sent.raw}
    began = {case.place for case in picture.cases() if case.exception == "nonzero-start-count"}
    assert noted
    assert out == noted | began


def closed(regime: str, seed: int) -> Picture:
    """The sample county after a whole day."""
    return Picture.of(sample_county(), sample_plan(), entries_of(a_day(regime, seed, WHOLE_DAY)))


def test_what_left_comes_back_seal_by_seal_and_on_a_rough_day_not_everywhere() -> None:
    normal, rough = closed("normal", 1), closed("rough", 1)
    for picture, some in ((normal, False), (rough, True)):
        found = [custody(state.day.steps, state.expected, picture.plan.items) for state in picture.places.values()]
        back = [each for each in found if each.back_at]
        assert len(back) > 35
        assert all(each.left_at and each.carried_by and each.received_by for each in back)
        assert any(each.missing for each in back) is some
        assert any(seal.state is SealState.DIFFERS for each in back for seal in each.seals) is some
        assert sum(seal.state is SealState.AGREES for each in back for seal in each.seals) > 2 * len(back)
    assert {"item-missing", "custody-gap"} <= {case.exception for case in rough.cases()}


def test_a_county_whose_plan_lists_no_items_closes_as_before() -> None:
    plan = replace(sample_plan(), items=())
    whole = made_up_day(sample_county(), plan, "rough", 1, WHOLE_DAY)
    assert not any("items" in sent.raw or "item" in sent.raw for sent in whole)
    assert sum(sent.raw.get("step") == "received" for sent in whole) > 35
