"""What is written down of patterns: begun once, grown now and then, ended with its cases, and again only for news."""

from collections.abc import Iterable

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from county.domain.cases import Case, State
from county.domain.effects import Effect
from county.domain.entries import Entry
from county.domain.pattern_facts import GROWS_EVERY, pattern_facts
from county.domain.picture import Picture
from county.domain.roster import Device, Place, Roster
from tests.builders import a_plan, after, an_action, an_exception

COUNTY = Roster(
    places=tuple(Place(f"P{n:03}", f"Place {n}", zone=f"Z{n % 4}", route=f"D{n // 8}") for n in range(48)),
    devices=tuple(Device(f"SC{n:03}", f"P{n:03}", "scanner", model="M2" if n % 3 == 0 else "M1") for n in range(48)),
)
PLAN = a_plan()
NAME = "P001.same-trouble.scanner-jam"
THREE = (1, 14, 28)


def jam(place: int, minute: float, **more: object) -> Entry:
    return an_exception("scanner-jam", after(minute), place=f"P{place:03}", device=f"SC{place:03}", **more)


def case_of(place: int) -> str:
    return f"P{place:03}.scanner-jam.SC{place:03}"


def cleared(place: int, minute: float, action: str = "clear") -> Entry:
    return an_action(case_of(place), action, after(minute))


class Watched:
    """A county whose clock looks at it whenever the test says so, and writes down what it finds."""

    def __init__(self, *entries: Entry) -> None:
        self.picture = Picture.of(COUNTY, PLAN, entries)
        self.written: list[Entry] = []

    def look(self, minute: float, *entries: Entry) -> list[Entry]:
        """The clock's turn after these came in; what it wrote."""
        self.picture.add(entries)
        new = pattern_facts(self.picture, after(minute), "real")
        self.picture.add(new)
        assert pattern_facts(self.picture, after(minute), "real") == [], "what is written is not written again"
        self.written += new
        return new

    def case(self, name: str = NAME) -> Case:
        found = self.picture.case(name)
        assert found is not None
        return found

    def patterns(self) -> list[str]:
        return [case.case for case in self.picture.cases() if case.is_pattern]


@pytest.fixture
def three() -> Watched:
    county = Watched(jam(1, 100), jam(14, 110))
    assert county.look(119) == []
    assert len(county.look(121, jam(28, 120))) == 1
    return county


def test_a_third_place_makes_it_a_case_of_its_own_one_step_worse_from_when_it_became_true(three: Watched) -> None:
    case = three.case()
    assert (case.state, case.effect, case.raised_at, case.place) == (State.RAISED, Effect.STOPPED, after(120), "P001")
    assert case.links == tuple(case_of(place) for place in THREE)
    assert case.says.startswith("Scanner jam at 3 places; 1 in ")
    assert case.says.endswith(" by chance")
    assert "within 30 min" in case.expected
    assert case.raised_by == "clock"


def test_along_a_route_it_says_which() -> None:
    county = Watched(jam(8, 100), jam(9, 140), jam(10, 180), jam(11, 200))
    county.look(201)
    (name,) = county.patterns()
    assert "at 4 places along delivery route D1;" in county.case(name).says


def test_it_is_one_case_however_often_the_clock_looks_and_however_many_clocks_there_are(three: Watched) -> None:
    assert three.look(122) == []
    other = pattern_facts(Picture.of(COUNTY, PLAN, [jam(1, 100), jam(14, 110), jam(28, 120)]), after(121.5), "real")
    assert [entry.key for entry in other] == [entry.key for entry in three.written]


def test_a_further_place_is_linked_within_two_minutes(three: Watched) -> None:
    assert three.look(122, jam(33, 121.5)) == []
    assert len(three.look(121 + GROWS_EVERY.total_seconds() / 60)) == 1
    assert case_of(33) in three.case().links
    assert three.case().says.startswith("Scanner jam at 4 places")
    assert three.patterns() == [NAME]


def test_one_that_has_doubled_is_written_down_at_once(three: Watched) -> None:
    assert len(three.look(121.5, jam(33, 121), jam(40, 121), jam(45, 121))) == 1
    assert len(three.case().links) == 6


def test_one_that_has_become_worse_is_written_down_at_once() -> None:
    county = Watched(
        *(jam(place, minute, effect="at-risk") for place, minute in zip(THREE, (100, 110, 120), strict=True))
    )
    county.look(121)
    assert county.case().effect is Effect.IMPAIRED
    county.look(121.2, jam(33, 121, effect="stopped"))
    assert county.case().effect is Effect.STOPPED


def test_an_earlier_case_learned_late_joins_it_and_moves_it_nowhere(three: Watched) -> None:
    three.look(130, jam(40, 95, received_at=after(129)))
    assert three.patterns() == [NAME]
    assert case_of(40) in three.case().links


def test_it_ends_when_its_last_case_ends_at_that_moment(three: Watched) -> None:
    assert three.look(140, cleared(1, 130), cleared(14, 135)) == []
    assert len(three.look(151, cleared(28, 150))) == 1
    case = three.case()
    assert (case.state, case.cleared_at) == (State.CLEARED, after(150))


def test_a_case_that_came_in_as_the_last_one_ended_keeps_it_open(three: Watched) -> None:
    three.look(121.5, *(cleared(place, 121) for place in THREE), jam(33, 121.2))
    assert three.case().state is State.RAISED
    assert case_of(33) in three.case().links


def test_a_case_opened_again_after_its_end_is_another_pattern(three: Watched) -> None:
    three.look(151, *(cleared(place, 150) for place in THREE))
    three.look(161, cleared(14, 160, "reopen"))
    assert three.case().state is State.CLEARED
    assert three.case(f"{NAME}.2").state is State.RAISED


def test_what_a_person_ended_is_not_raised_again_for_the_same_cases(three: Watched) -> None:
    three.look(123, an_action(NAME, "clear", after(122), note="one bad delivery"))
    assert three.look(150) == []
    assert three.case().state is State.CLEARED


def test_what_a_person_ended_is_raised_again_for_a_new_place(three: Watched) -> None:
    three.look(123, an_action(NAME, "clear", after(122), note="one bad delivery"))
    assert len(three.look(127, jam(33, 126))) == 1
    assert three.case().state is State.CLEARED
    assert three.case(f"{NAME}.2").links[-1] == case_of(33)


def test_one_of_which_nothing_is_open_is_not_raised_at_all() -> None:
    county = Watched(*(jam(place, 100) for place in THREE), *(cleared(place, 105) for place in THREE))
    assert county.look(110) == []


def test_what_became_true_or_ended_more_than_a_day_ago_is_left_alone(three: Watched) -> None:
    long_ago = Watched(*(jam(place, 100) for place in THREE))
    assert long_ago.look(100 + 24 * 60 + 1) == []
    assert three.look(150 + 24 * 60 + 1, *(cleared(place, 150) for place in THREE)) == []


def test_messages_not_seen_and_patterns_themselves_make_no_pattern() -> None:
    unseen = [an_exception("message-unseen", after(100), place=f"P{place:03}") for place in range(8)]
    told = [an_exception("same-trouble", after(100), place=f"P{place:03}") for place in range(8)]
    assert Watched(*unseen, *told).look(101) == []


PLACED = st.tuples(st.integers(0, 47), st.integers(60, 300))
TURNS = st.lists(st.integers(60, 330), max_size=6).map(sorted)


@settings(max_examples=40, deadline=None)
@given(st.lists(PLACED, max_size=14, unique_by=lambda each: each[0]), TURNS, st.sets(st.integers(0, 47), max_size=6))
@example([(0, 181), (1, 151), (2, 60), (4, 91), (8, 60), (9, 60), (10, 151)], [182], set())
def test_whenever_the_clock_looks_no_case_is_in_two_open_patterns_and_each_has_an_open_case(
    seen: list[tuple[int, int]], turns: Iterable[int], ended: set[int]
) -> None:
    reports = [jam(place, minute) for place, minute in seen]
    ends = [cleared(place, minute + 15) for place, minute in seen if place in ended]
    county = Watched()
    for minute in [*turns, 400]:
        county.look(minute, *(entry for entry in (*reports, *ends) if entry.received_at <= after(minute)))
        cases = {case.case: case for case in county.picture.cases()}
        standing = [case for case in cases.values() if case.is_pattern and case.state.open]
        links = [name for case in standing for name in case.links]
        assert len(links) == len(set(links))
        assert all(any(cases[name].state.open for name in case.links) for case in standing)
