"""Replay against the live board: what was recorded live at random moments of a rehearsal, and what is replayed."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from random import Random

import pytest

from county.domain.both_orders import View
from county.domain.entries import Kind
from county.domain.picture import Picture, PlaceNow, PlaceState
from county.domain.replay import Replay
from county.domain.standing import Standing
from tests.a_played_day import PlayedDay, a_played_day

MOMENTS = 50


@dataclass(frozen=True)
class Live:
    """What the live picture showed at a moment: every place folded, every place then, and how many stood how."""

    at: datetime
    states: Mapping[str, PlaceState]
    places: tuple[PlaceNow, ...]
    totals: Mapping[Standing, int]


def recorded(picture: Picture, now: datetime) -> Live:
    return Live(now, dict(picture.places), picture.everywhere(now), picture.totals(now))


def moments(day: PlayedDay, chance: Random) -> Iterator[datetime]:
    """Uneven steps through the morning, to the microsecond."""
    now = day.day[0].at
    while now < day.day[-1].at:
        now += timedelta(seconds=chance.uniform(20, 420))
        yield now


@pytest.fixture(scope="module")
def played(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[PlayedDay, list[Live]]]:
    chance = Random(50)
    day = a_played_day(tmp_path_factory.mktemp("played") / "data", places=24, hours=5)
    steps = list(moments(day, chance))
    to_record = set(chance.sample(steps, MOMENTS))
    live = []
    for now in steps:
        day.to(now)
        if now in to_record:
            live.append(recorded(day.following.picture, now))
    yield day, live
    day.office.engine.dispose()


def test_replay_equals_the_live_board_at_fifty_random_moments_field_by_field(
    played: tuple[PlayedDay, list[Live]],
) -> None:
    day, live = played
    picture = day.following.picture
    replay = Replay(picture.roster, picture.plan, day.following.entries, folded=picture.places)
    assert len(live) == MOMENTS
    for then in live:
        beside = {each.place: each.known for each in replay.everywhere(then.at)}
        picture = replay.picture(then.at, View.KNOWN)
        for place, state in then.states.items():
            assert replay.state(place, then.at, View.KNOWN) == state
        assert picture.everywhere(then.at) == then.places
        assert picture.totals(then.at) == then.totals
        for now in then.places:
            brief = beside[now.place.place]
            assert (brief.standing, brief.opened_at, brief.minutes_late) == (
                now.standing,
                now.day.opened_at,
                now.minutes_late,
            )
            assert brief.open_cases == tuple(case.case for case in now.open_cases)


def test_replay_equals_the_picture_of_what_had_happened_by_then_too(
    played: tuple[PlayedDay, list[Live]],
) -> None:
    day, live = played
    now = day.following.picture
    replay = Replay(now.roster, now.plan, day.following.entries, folded=now.places)
    for then in live[::-5]:
        picture = replay.picture(then.at, View.HAPPENED)
        beside = {each.place: each.happened for each in replay.everywhere(then.at)}
        for of_place in picture.everywhere(then.at):
            brief = beside[of_place.place.place]
            assert (brief.standing, brief.opened_at) == (of_place.standing, of_place.day.opened_at)
            assert brief.minutes_late == of_place.minutes_late
            assert brief.open_cases == tuple(case.case for case in of_place.open_cases)


def test_the_rehearsal_it_was_held_against_had_everything_in_it(played: tuple[PlayedDay, list[Live]]) -> None:
    day, live = played
    kinds = {entry.kind for entry in day.following.entries}
    assert {Kind.STEP, Kind.COUNT, Kind.EXCEPTION, Kind.ACTION, Kind.RAISED, Kind.NOTICE} <= kinds
    changed = {place for then in live for place, state in then.states.items() if state != live[0].states[place]}
    assert len(changed) == len(live[0].states)
    late = [entry for entry in day.following.entries if entry.received_at - entry.happened_at > timedelta(minutes=5)]
    assert late
    assert {Standing.OPEN, Standing.IMPAIRED} <= {now.standing for then in live for now in then.places}
