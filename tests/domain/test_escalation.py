"""The ladder: never told before due, never missed for long, never twice, and never after it no longer matters."""

from dataclasses import replace
from datetime import datetime, timedelta
from functools import lru_cache
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from county.domain.cases import Case
from county.domain.effects import Effect
from county.domain.entries import Entry, Kind
from county.domain.escalation import PUNCTUAL, Telling, coming, due
from county.domain.plan import UNLESS, Rung
from tests.builders import after, an_action, an_entry, an_exception
from tests.looking import the_case

DEAD = an_exception("no-power", after(60), effect="stopped")
NAME = "P014.no-power"
LADDER = (
    Rung(Effect.STOPPED, timedelta(0), "acknowledged", ("lead",)),
    Rung(Effect.STOPPED, timedelta(minutes=5), "acknowledged", ("director",)),
    Rung(Effect.STOPPED, timedelta(minutes=20), "on-site", ("director", "counsel")),
    Rung(Effect.STOPPED, timedelta(minutes=45), "cleared", ("director", "counsel")),
    Rung(Effect.IMPAIRED, timedelta(minutes=10), "acknowledged", ("lead",)),
)


def the_dead(*deeds: Entry, report: Entry = DEAD) -> Case:
    return the_case(NAME, report, *deeds)


def deed(action: str, minutes: float, **more: object) -> Entry:
    return an_action(NAME, action, after(minutes), **more)


def told(case: Case, minutes: float) -> list[tuple[str, ...]]:
    return [telling.tell for telling in due(case, LADDER, after(minutes))]


def test_each_rung_comes_due_in_its_time() -> None:
    case = the_dead()
    assert told(case, 59) == []
    assert told(case, 60) == [("lead",)]
    assert told(case, 64.9) == [("lead",)]
    assert told(case, 65) == [("lead",), ("director",)]
    assert told(case, 105) == [("lead",), ("director",), ("director", "counsel"), ("director", "counsel")]


def test_acknowledged_stops_what_waits_for_it_and_leaves_the_rest() -> None:
    assert told(the_dead(deed("acknowledge", 61)), 85) == [("director", "counsel")]
    assert told(the_dead(deed("on-site", 70, rover="R03")), 85) == []
    assert told(the_dead(deed("on-site", 70, rover="R03")), 105) == [("director", "counsel")]


@pytest.mark.parametrize("ending", ["clear", "withdraw"])
def test_when_the_case_has_ended_nobody_is_told(ending: str) -> None:
    assert told(the_dead(deed(ending, 61)), 300) == []


def test_a_rover_in_anothers_stead_leaves_nobody_on_site_again() -> None:
    swapped = (deed("on-site", 70, rover="R03"), deed("assign", 72, rover="R04"))
    assert told(the_dead(*swapped), 85) == [("director", "counsel")]


def test_a_case_reopened_starts_again_at_the_foot_of_the_ladder() -> None:
    again = the_dead(deed("acknowledge", 61), deed("clear", 70), deed("reopen", 120))
    assert told(again, 119) == []
    assert told(again, 121) == [("lead",)]
    assert told(again, 125) == [("lead",), ("director",)]
    first, second = due(the_dead(), LADDER, after(61))[0], due(again, LADDER, after(121))[0]
    assert first.rung == second.rung
    assert first.key != second.key


def test_reopening_an_open_case_neither_puts_off_nor_tells_again() -> None:
    plain, pressed = the_dead(), the_dead(deed("reopen", 64))
    assert due(plain, LADDER, after(65)) == due(pressed, LADDER, after(65))


def test_told_late_says_how_late_and_why() -> None:
    case = the_dead()
    director = due(case, LADDER, after(125))[1]
    assert director.late_by(after(125)) == timedelta(minutes=60)
    assert director.says(after(66)) == "stopped: not acknowledged after 5 min"
    assert director.says(after(125)) == (
        "stopped: not acknowledged after 5 min; told 60 min late: "
        "the board was not watching when it was due, or the case weighed less then"
    )
    learned_late = the_dead(report=an_exception("no-power", after(60), effect="stopped", received_at=after(100)))
    assert due(learned_late, LADDER, after(100))[1].says(after(100)).endswith("the office learned of the case late")
    grown_worse = the_dead(
        deed("effect", 90, effect="stopped"), report=an_exception("no-power", after(60), effect="impaired")
    )
    assert due(grown_worse, LADDER, after(90))[1].says(after(90)).endswith("the case weighed less when it was due")


def test_at_once_says_so_and_on_time_says_nothing_of_lateness() -> None:
    at_once = due(the_dead(), LADDER, after(60))[0]
    assert at_once.says(after(60) + PUNCTUAL) == "stopped: at once"
    assert due(the_dead(), LADDER, after(80))[2].says(after(80)) == "stopped: nobody on site after 20 min"


def test_only_the_rungs_of_the_cases_effect_are_climbed() -> None:
    impaired = the_dead(report=an_exception("no-power", after(60), effect="impaired"))
    assert told(impaired, 300) == [("lead",)]
    lowered = the_dead(deed("effect", 62, effect="impaired"))
    assert told(lowered, 69) == []
    assert told(lowered, 70) == [("lead",)]


def test_what_is_to_come_is_known_ahead() -> None:
    case = the_dead(deed("acknowledge", 61))
    ahead = coming(case, LADDER, after(70))
    assert [(each.tell, each.due_at) for each in ahead] == [
        (("director", "counsel"), after(80)),
        (("director", "counsel"), after(105)),
    ]


def test_a_milestone_nobody_knows_is_never_reached() -> None:
    odd = Rung(Effect.STOPPED, timedelta(minutes=1), "answered", ("lead",))
    everything = the_dead(deed("acknowledge", 60), deed("on-site", 60, rover="R03"))
    assert [telling.tell for telling in due(everything, (odd,), after(61))] == [("lead",)]


def test_moving_rungs_about_or_naming_one_twice_tells_nobody_again() -> None:
    def keys(ladder: tuple[Rung, ...]) -> list[str]:
        return [telling.key for telling in due(the_dead(), ladder, after(200))]

    assert sorted(keys(LADDER[::-1])) == sorted(keys(LADDER)) == sorted(keys(LADDER + LADDER))
    assert len(set(keys(LADDER))) == 4


minutes = st.integers(0, 240)
rungs = st.builds(
    Rung,
    st.sampled_from([Effect.STOPPED, Effect.IMPAIRED]),
    st.integers(0, 90).map(lambda each: timedelta(minutes=each)),
    st.sampled_from(UNLESS),
    st.lists(st.sampled_from(["lead", "director", "counsel"]), min_size=1, max_size=2, unique=True).map(tuple),
)
deeds = st.lists(
    st.tuples(
        st.sampled_from(["acknowledge", "assign", "under-way", "on-site", "clear", "reopen", "withdraw", "note"]),
        st.integers(60, 240),
    ),
    max_size=7,
)


def lived(done: list[tuple[str, int]], now: datetime) -> Case:
    """The case as known at a moment: only what had happened by then."""
    return folded(tuple((n, action, at) for n, (action, at) in enumerate(done) if after(at) <= now))


@lru_cache(maxsize=1_000)
def folded(done: tuple[tuple[int, str, int], ...]) -> Case:
    return the_dead(*(deed(action, at, key=f"deed-{n}", rover="R03") for n, action, at in done))


def loop(
    done: list[tuple[str, int]], ladder: tuple[Rung, ...], looks: list[datetime]
) -> dict[str, tuple[datetime, Telling]]:
    """What a clock loop that looks at these moments tells, and when: each key once."""
    said: dict[str, tuple[datetime, Telling]] = {}
    for now in looks:
        for telling in due(lived(done, now), ladder, now):
            said.setdefault(telling.key, (now, telling))
    return said


@given(done=deeds, ladder=st.lists(rungs, max_size=5).map(tuple), gaps=st.lists(st.integers(1, 75), max_size=8))
def test_nobody_is_told_before_it_is_due_and_whoever_is_told_late_hears_so(
    done: list[tuple[str, int]], ladder: tuple[Rung, ...], gaps: list[int]
) -> None:
    looks = [after(60 + sum(gaps[:n])) for n in range(len(gaps) + 1)]
    for now, telling in loop(done, ladder, looks).values():
        assert telling.due_at <= now
        assert telling.due_at >= after(60) + telling.rung.after
        assert ("min late" in telling.says(now)) == (now - telling.due_at > PUNCTUAL)


@given(done=deeds, ladder=st.lists(rungs, max_size=5).map(tuple), gone=minutes)
def test_nothing_that_still_matters_is_missed_when_the_loop_was_down_for_an_hour(
    done: list[tuple[str, int]], ladder: tuple[Rung, ...], gone: int
) -> None:
    """A loop that looks every minute, and one that did not look for an hour: what the second never says had settled."""
    every = [after(minute) for minute in range(60, 301)]
    down = [now for now in every if not after(gone) <= now < after(gone + 60)]
    steady, broken = loop(done, ladder, every), loop(done, ladder, down)
    back = min((now for now in down if now >= after(gone + 60)), default=after(300))
    assert broken.keys() <= steady.keys()
    for key in steady.keys() - broken.keys():
        told_at, telling = steady[key]
        assert after(gone) <= told_at < back
        assert key not in {each.key for each in due(lived(done, back), ladder, back)}
    for key, (now, telling) in broken.items():
        assert now == steady[key][0] or (
            now == back and ("late" in telling.says(now)) == (now - telling.due_at > PUNCTUAL)
        )


@given(done=deeds, ladder=st.lists(rungs, max_size=5).map(tuple))
def test_once_acknowledged_nothing_that_waits_for_acknowledgement_is_due_until_it_is_reopened(
    done: list[tuple[str, int]], ladder: tuple[Rung, ...]
) -> None:
    for minute in range(60, 260, 7):
        case = lived(done, after(minute))
        tellings = due(case, ladder, after(minute))
        if case.acknowledged_at:
            assert all(telling.rung.unless != "acknowledged" for telling in tellings)
        if not case.state.open:
            assert not tellings
        assert all(telling.rung.effect is case.effect for telling in tellings)


@given(ladder=st.lists(rungs, max_size=5).map(tuple), looks=st.lists(minutes, min_size=2, max_size=10))
def test_while_nothing_is_done_what_is_due_only_grows_and_keeps_its_key(
    ladder: tuple[Rung, ...], looks: list[int]
) -> None:
    case = the_dead()
    seen = [{telling.key: telling for telling in due(case, ladder, after(now))} for now in sorted(looks)]
    for earlier, later in pairwise(seen):
        assert earlier.items() <= later.items()


def test_a_pattern_climbs_the_ladder_and_whoever_acknowledged_it_has_it_in_hand() -> None:
    """Nobody goes to a pattern: its cases have rovers of their own."""
    fields = {"exception": "same-trouble", "effect": "stopped", "of": "no-power", "cause": "x", "cases": (NAME,)}
    pattern = replace(an_entry(Kind.RAISED, after(60), by="clock", sender="clock"), fields=fields)
    name = "P014.same-trouble.no-power"
    assert told(the_case(name, pattern), 85) == [("lead",), ("director",), ("director", "counsel")]
    seen = an_action(name, "acknowledge", after(61))
    assert told(the_case(name, pattern, seen), 85) == []
    assert told(the_case(name, pattern, seen), 105) == [("director", "counsel")]
