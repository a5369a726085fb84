"""The same trouble at many places, and how surprising that is."""

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from county.domain.cases import Case
from county.domain.chance import by_chance, one_in
from county.domain.effects import Effect
from county.domain.entries import Entry
from county.domain.pattern_limits import PatternLimits
from county.domain.patterns import Pattern, one_step_worse, patterns
from county.domain.roster import Device, Place, Roster
from tests.builders import after, an_action, an_exception
from tests.looking import a_picture

COUNTY = Roster(
    places=tuple(Place(f"P{n:03}", f"Place {n}", zone=f"Z{n % 4}", route=f"route {n // 8}") for n in range(48)),
    devices=tuple(Device(f"SC{n:03}", f"P{n:03}", "scanner", model="M2" if n % 3 == 0 else "M1") for n in range(48)),
)
BEGINS = after(-60)


def jam(place: int, minute: float, **more: object) -> Entry:
    more.setdefault("device", f"SC{place:03}")
    return an_exception("scanner-jam", after(minute), place=f"P{place:03}", **more)


def cases_of(*entries: Entry) -> tuple[Case, ...]:
    return a_picture(*entries, roster=COUNTY).cases()


def found(*entries: Entry, now: float = 240, limits: PatternLimits | None = None) -> tuple[Pattern, ...]:
    return patterns(cases_of(*entries), COUNTY, BEGINS, after(now), limits)


def test_three_places_within_half_an_hour_are_linked_and_weigh_one_step_more() -> None:
    (pattern,) = found(jam(1, 100), jam(14, 110), jam(28, 129))
    assert (pattern.exception, pattern.scope) == ("scanner-jam", "county")
    assert pattern.places == ("P001", "P014", "P028")
    assert pattern.cases == tuple(f"P{n:03}.scanner-jam.SC{n:03}" for n in (1, 14, 28))
    assert (pattern.begins, pattern.ends, pattern.most) == (after(100), after(129), 3)
    assert pattern.effect is Effect.STOPPED
    assert pattern.open


def test_two_places_or_three_too_far_apart_in_time_are_no_pattern() -> None:
    assert found(jam(1, 100), jam(14, 110)) == ()
    assert found(jam(1, 100), jam(14, 115), jam(27, 131)) == ()
    assert found(jam(1, 100), jam(1, 101, device="X1"), jam(1, 102, device="X2"), jam(14, 103)) == ()


def test_different_troubles_are_not_one() -> None:
    power = an_exception("no-power", after(112), place="P028")
    assert found(jam(1, 100), jam(14, 110), power) == ()


@pytest.mark.parametrize(
    ("places", "scope", "name"),
    [((8, 9, 10, 11), "route", "route 1"), ((1, 5, 21, 45), "zone", "Z1"), ((0, 15, 30, 42), "model", "M2")],
)
def test_what_runs_along_a_route_a_zone_or_a_model_is_said_to_do_so(
    places: tuple[int, ...], scope: str, name: str
) -> None:
    (pattern,) = found(*(jam(place, 100 + 20 * n) for n, place in enumerate(places)))
    assert (pattern.scope, pattern.name, len(pattern.places)) == (scope, name, 4)


def test_a_common_cause_is_told_from_what_else_happens_in_the_county() -> None:
    route = [jam(place, 100 + place) for place in (8, 9, 10, 11, 12)]
    others = [jam(place, minute) for place, minute in ((1, 10), (30, 60), (44, 105), (21, 200))]
    (pattern,) = found(*route, *others)
    assert (pattern.scope, pattern.name) == ("route", "route 1")
    assert "P044" not in pattern.places


def test_no_case_is_in_two_patterns_and_the_least_likely_comes_first() -> None:
    mornings = [jam(place, 20 + place) for place in range(8, 16)] + [jam(place, 200) for place in (1, 18, 35, 47, 28)]
    several = found(*mornings)
    assert [pattern.probability for pattern in several] == sorted(pattern.probability for pattern in several)
    cases = [case for pattern in several for case in pattern.cases]
    assert len(cases) == len(set(cases)) == 13
    assert len(several) == 2


def test_the_probability_is_poisson_against_the_days_base_rate() -> None:
    """Ten jams so far outside the pattern, and one more, in five hours: 1.1 expected in half an hour."""
    outside = [jam(place, minute) for place, minute in zip(range(20, 30), range(-59, 60, 12), strict=True)]
    limits = PatternLimits(chance=1.0, along=timedelta(0))
    pattern = next(
        p for p in found(*outside, jam(1, 200), jam(14, 210), jam(33, 220), limits=limits) if "P001" in p.places
    )
    assert pattern.usual == pytest.approx(11 * 30 / 300)
    assert pattern.probability == pytest.approx(stats.poisson.sf(2, 1.1), rel=1e-12)


def test_what_chance_brings_often_is_not_linked() -> None:
    outside = [jam(place, minute) for place, minute in zip(range(20, 48), range(-59, 222, 10), strict=False)]
    often = (*outside, jam(1, 201), jam(14, 206), jam(10, 211))
    assert not any("P001" in pattern.places for pattern in found(*often))
    assert any("P001" in pattern.places for pattern in found(*often, limits=PatternLimits(chance=1.0)))


def late(place: int, minute: float = 0) -> Entry:
    return an_exception("late-opening", after(minute), place=f"P{place:03}")


def other(place: int, minute: float, note: str) -> Entry:
    return an_exception("other", after(minute), place=f"P{place:03}", note=note)


def test_other_trouble_may_be_anything_so_its_words_must_be_the_same_too() -> None:
    van = [other(place, 100 + n, "The van has not come") for n, place in enumerate((1, 14, 28))]
    assert found(*van[:2], other(28, 102, "Loud building work next door")) == ()
    (pattern,) = found(*van, other(33, 103, "the van  has not come"), other(40, 104, "No chairs"))
    assert pattern.places == ("P001", "P014", "P028", "P033")


def test_what_becomes_true_at_an_hour_that_all_share_is_no_pattern_of_the_county() -> None:
    assert found(*(late(place) for place in (1, 9, 18, 27, 34, 47))) == ()


def test_but_along_one_route_it_is_held_against_all_the_county() -> None:
    (pattern,) = found(*(late(place) for place in (8, 9, 10, 11, 1, 34)))
    assert (pattern.scope, pattern.name, len(pattern.places)) == ("route", "route 1", 4)
    assert pattern.usual == pytest.approx((6 - 4 + 1) * 8 / 48)


def test_the_first_three_of_the_day_are_linked_however_early_it_is() -> None:
    early = patterns(cases_of(jam(1, -59), jam(14, -55), jam(28, -50)), COUNTY, BEGINS, after(-50))
    assert len(early) == 1
    assert (early[0].scope, early[0].usual) == ("county", 1.0)


def test_a_pattern_keeps_its_key_while_it_grows_and_stays_when_cases_end() -> None:
    first = (jam(1, 100), jam(14, 110), jam(28, 120))
    (small,), (grown,) = found(*first), found(*first, jam(33, 125), jam(46, 140))
    assert small.key == grown.key
    assert len(grown.places) == 5
    ended = [an_action(case, "clear", after(150)) for case in small.cases]
    (over,) = found(*first, *ended)
    assert (over.key, over.open) == (small.key, False)


def test_withdrawn_cases_count_for_nothing() -> None:
    withdrawn = an_action("P028.scanner-jam.SC028", "withdraw", after(121))
    assert found(jam(1, 100), jam(14, 110), jam(28, 120), withdrawn) == ()


@pytest.mark.parametrize(
    ("effect", "worse"),
    [
        (Effect.RECORD, Effect.AT_RISK),
        (Effect.AT_RISK, Effect.IMPAIRED),
        (Effect.IMPAIRED, Effect.STOPPED),
        (Effect.STOPPED, Effect.STOPPED),
        (Effect.DANGER, Effect.DANGER),
    ],
)
def test_one_step_worse_never_makes_a_danger_of_broken_machines(effect: Effect, worse: Effect) -> None:
    assert one_step_worse(effect) is worse


@given(places=st.integers(0, 60), usual=st.floats(1e-6, 80))
def test_chance_is_the_upper_tail_of_scipys_poisson(places: int, usual: float) -> None:
    assert by_chance(places, usual) == pytest.approx(float(stats.poisson.sf(places - 1, usual)), rel=1e-9, abs=1e-300)


@pytest.mark.parametrize(
    ("probability", "says"),
    [
        (1.0, "1 in 1"),
        (0.34, "1 in 3"),
        (0.0996, "1 in 10"),
        (1 / 897, "1 in 900"),
        (1 / 12_345, "1 in 12,000"),
        (1e-7, "less than 1 in a million"),
        (0.0, "less than 1 in a million"),
    ],
)
def test_a_probability_is_said_as_people_say_it(probability: float, says: str) -> None:
    assert one_in(probability) == says


@given(st.lists(st.tuples(st.integers(0, 47), st.integers(-50, 230)), max_size=30, unique_by=lambda each: each[0]))
def test_every_pattern_holds_what_it_promises(seen: list[tuple[int, int]]) -> None:
    several = found(*(jam(place, minute) for place, minute in seen))
    cases = [case for pattern in several for case in pattern.cases]
    assert len(cases) == len(set(cases))
    for pattern in several:
        assert len(pattern.places) >= pattern.most >= 3
        assert pattern.probability == by_chance(pattern.most, pattern.usual)
        assert pattern.probability * pattern.looks <= 0.1
        assert pattern.ends - pattern.begins <= pattern.within * len(pattern.cases)
