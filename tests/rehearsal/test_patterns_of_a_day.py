"""A made-up morning watched by the clock: a common cause stands out along its route, an ordinary day has hardly any."""

from datetime import datetime, timedelta

import pytest

from county.domain.cases import Case
from county.domain.entries import Entry
from county.domain.pattern_facts import pattern_facts
from county.domain.picture import Picture
from county.domain.rules import clock_findings
from county.domain.rules.scene import Scene
from county.rehearsal.day import made_up_day
from tests.builders import raised
from tests.rehearsal.days import entries_of, sample_county, sample_plan

EVERY = timedelta(minutes=5)


def watched(regime: str, seed: int) -> list[Case]:
    """Every pattern that the clock raised on this day up to three hours after opening, looking every five minutes."""
    county, plan = sample_county(), sample_plan()
    told = sorted(entries_of(made_up_day(county, plan, regime, seed)), key=lambda entry: entry.received_at)
    picture, now, heard = Picture(county, plan), told[0].received_at, 0
    while now < told[-1].received_at + EVERY:
        come = heard
        while come < len(told) and told[come].received_at <= now:
            come += 1
        picture.add(told[heard:come])
        picture.add(_raised(picture, now))
        picture.add(pattern_facts(picture, now, "real"))
        heard, now = come, now + EVERY
    return [case for case in picture.cases() if case.is_pattern]


def _raised(picture: Picture, now: datetime) -> list[Entry]:
    """What the clock writes down of each place by now that it has not written before."""
    held = {entry.key for state in picture.places.values() for entry in state.day.raised}
    found = [
        raised(
            rule.exception,
            due.cause,
            due.since,
            effect=picture.plan.kind(rule.exception).effect.value,
            device=due.device,
            place=place,
            received_at=now,
        )
        for place, state in picture.places.items()
        for rule, due in clock_findings(Scene(state.day, state.expected, picture.plan, state.cases), now)
    ]
    return [entry for entry in found if entry.key not in held]


@pytest.mark.parametrize("seed", [1, 2])
def test_a_common_cause_stands_out_along_the_route_it_struck(seed: int) -> None:
    found = watched("common-cause", seed)
    late = [case for case in found if case.of == "late-opening"]
    assert late, "the places of one route opened late"
    assert all("along delivery route D" in case.says for case in late)
    county = sample_county()
    for case in late:
        routes = {county.place_by_id[name.partition(".")[0]].route for name in case.links}
        assert len(routes) == 1
    assert max(len(case.links) for case in late) >= 6


@pytest.mark.parametrize("seed", [1, 2])
def test_an_ordinary_morning_has_hardly_a_pattern_and_none_of_many_places(seed: int) -> None:
    found = watched("normal", seed)
    assert len(found) <= 2
    assert all(len(case.links) <= 4 for case in found)
