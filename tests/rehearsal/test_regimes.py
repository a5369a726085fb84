"""How many places open late on each kind of day, from the raw reports against the places' own opening times.

The ranges are the shapes of published days: on good days about one place in a hundred, on bad ones one in ten, and
where something common goes wrong about a third (573 of 1,611 and 13 of 40 on two published days). The median of twenty
minutes is a judgement.
"""

from functools import cache
from statistics import median

import pytest

from county.rehearsal.day import made_up_day
from county.rehearsal.roster import made_up_county
from tests.rehearsal.days import minutes_late, sample_plan

PLACES, SEEDS = 240, range(12)


@cache
def late_days(regime: str) -> tuple[dict[str, int], ...]:
    """For each seed, the minutes late of every place that told of its opening."""
    county = made_up_county(PLACES)
    return tuple(
        minutes_late(made_up_day(county, sample_plan(), regime, seed), county, sample_plan()) for seed in SEEDS
    )


@pytest.mark.parametrize(
    ("regime", "least", "most"), [("normal", 0.005, 0.02), ("rough", 0.08, 0.12), ("common-cause", 0.30, 0.36)]
)
def test_the_share_of_late_places_is_that_of_the_regime(regime: str, least: float, most: float) -> None:
    late = sum(minutes > 0 for day in late_days(regime) for minutes in day.values())
    assert least <= late / (PLACES * len(SEEDS)) <= most


def test_nearly_every_place_tells_when_it_opened() -> None:
    assert sum(map(len, late_days("rough"))) > 0.94 * PLACES * len(SEEDS)


def test_the_median_lateness_is_about_twenty_minutes() -> None:
    late = [minutes for day in late_days("rough") for minutes in day.values() if minutes]
    assert 17 <= median(late) <= 23
    assert max(late) > 60


def test_a_common_cause_runs_along_a_few_delivery_routes() -> None:
    route = {place.place: place.route for place in made_up_county(PLACES).places}
    for day in late_days("common-cause"):
        late_on: dict[str, list[bool]] = {}
        for place, minutes in day.items():
            late_on.setdefault(route[place], []).append(minutes > 0)
        delayed = {name for name, places in late_on.items() if sum(places) > 0.6 * len(places)}
        late = [place for place, minutes in day.items() if minutes]
        assert 0.25 <= len(delayed) / len(late_on) <= 0.40
        assert sum(route[place] in delayed for place in late) > 0.85 * len(late)


def test_places_on_one_delayed_route_are_late_by_much_the_same() -> None:
    county = made_up_county(PLACES)
    route = {place.place: place.route for place in county.places}
    spreads, all_late = [], []
    for day in late_days("common-cause"):
        on: dict[str, list[int]] = {}
        for place, minutes in day.items():
            if minutes:
                on.setdefault(route[place], []).append(minutes)
        long = [minutes for minutes in on.values() if len(minutes) >= 5]
        spreads += [max(minutes) / min(minutes) for minutes in long]
        all_late += [minute for minutes in long for minute in minutes]
    assert median(spreads) < 3
    assert max(all_late) / min(all_late) > 6


def test_a_rough_day_strikes_without_regard_to_routes() -> None:
    route = {place.place: place.route for place in made_up_county(PLACES).places}
    shares = []
    for day in late_days("rough"):
        late_on: dict[str, int] = {}
        for place, minutes in day.items():
            late_on[route[place]] = late_on.get(route[place], 0) + (minutes > 0)
        shares.append(max(late_on.values()))
    assert max(shares) <= 5
