"""The picture: what we believe about each place of the county, folded from what was reported and what people did."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from county.domain.ballots_left import Supply
from county.domain.cases import Case, worst_first
from county.domain.corrections import put_right
from county.domain.entries import Entry, Kind
from county.domain.expected import Expected, expected_of
from county.domain.found import Memory
from county.domain.lines import Wait
from county.domain.lost_intervals import lost_intervals
from county.domain.lost_time import lost_time, minutes_late
from county.domain.moments import whole_minutes
from county.domain.place_day import PlaceDay
from county.domain.place_state import PlaceState, open_troubles, state_of
from county.domain.plan import Plan
from county.domain.roster import Place, Roster
from county.domain.standing import Standing, standing

__all__ = ["Picture", "PlaceNow", "PlaceState", "happened", "known"]


@dataclass(frozen=True, slots=True)
class PlaceNow:
    """One place at one moment. Minutes are whole; times aware UTC."""

    place: Place
    expected: Expected
    day: PlaceDay
    cases: tuple[Case, ...]
    standing: Standing
    minutes_late: int
    lost_minutes: int
    wait: Wait | None = None
    supply: Supply | None = None

    @property
    def open_cases(self) -> tuple[Case, ...]:
        """The place's own open troubles; a pattern that began here is one of the county's, not of the place."""
        return open_troubles(self.cases)


class Picture:
    """The whole county; entries are added in any order, any number of times, and it comes to the same."""

    def __init__(
        self, roster: Roster, plan: Plan, entries: Iterable[Entry] = (), *, heard_by_happening: bool = False
    ) -> None:
        self.roster = roster
        self.plan = plan
        self.expected: Mapping[str, Expected] = expected_of(roster, plan)
        self._heard_by_happening = heard_by_happening
        self._told: dict[str, dict[str, Entry]] = {}
        self._found_before: dict[str, Memory] = {}
        self.places: dict[str, PlaceState] = {}
        self._take_in(entries)
        for place in self.expected:
            self._refold(place)

    @classmethod
    def of(cls, roster: Roster, plan: Plan, entries: Iterable[Entry], *, heard_by_happening: bool = False) -> "Picture":
        """The picture of these entries."""
        return cls(roster, plan, entries, heard_by_happening=heard_by_happening)

    def add(self, entries: Iterable[Entry]) -> set[str]:
        """Fold in more entries; the places that they touch, each folded anew once."""
        touched = self._take_in(entries)
        for place in touched:
            self._refold(place)
        return touched

    def _take_in(self, entries: Iterable[Entry]) -> set[str]:
        """Put the entries to those of their places; nothing is folded yet."""
        touched: set[str] = set()
        for entry in entries:
            place = entry.place
            if place:
                if place not in self._told:
                    self._told[place] = {}
                self._told[place][entry.key] = entry
                touched.add(place)
        return touched

    def with_more(self, entries: Iterable[Entry]) -> dict[str, PlaceState]:
        """How the places that these entries touch would stand with them; nothing is folded in."""
        more: dict[str, dict[str, Entry]] = {}
        for entry in entries:
            more.setdefault(entry.place, {})[entry.key] = entry
        return {
            place: self._folded(
                self.expected[place],
                (self._told.get(place, {}) | new).values(),
                dict(self._found_before.get(place, {})),
            )
            for place, new in more.items()
            if place in self.expected
        }

    def _refold(self, place: str) -> None:
        expected = self.expected.get(place)
        if expected is not None:
            memory = self._found_before.setdefault(place, {})
            self.places[place] = self._folded(expected, self._told.get(place, {}).values(), memory)

    def _folded(self, expected: Expected, told: Iterable[Entry], memory: Memory) -> PlaceState:
        return state_of(expected, told, self.plan, memory, heard_by_happening=self._heard_by_happening)

    def at(self, place: str, now: datetime) -> PlaceNow:
        """One place at a moment; KeyError where the roster has no such place."""
        state = self.places[place]
        expected, day, cases = state.expected, state.day, state.cases
        lost = [each.interval for each in lost_intervals(state, now)]
        return PlaceNow(
            place=expected.place,
            expected=expected,
            day=day,
            cases=cases,
            standing=standing(day, cases, expected, self.plan, now),
            minutes_late=minutes_late(expected.opens_at, day.opened_at, min(now, expected.closes_at)),
            lost_minutes=whole_minutes(lost_time(lost, expected.opens_at, expected.closes_at)),
            wait=state.wait,
            supply=state.supply,
        )

    def everywhere(self, now: datetime) -> tuple[PlaceNow, ...]:
        """Every place at a moment, in the roster's order."""
        return tuple(self.at(place, now) for place in self.places)

    def totals(self, now: datetime) -> dict[Standing, int]:
        """How many places stand how; every standing is named, with 0 where there is none."""
        counted = Counter(
            standing(state.day, state.cases, state.expected, self.plan, now) for state in self.places.values()
        )
        return {each: counted[each] for each in Standing}

    def cases(self, *, open_only: bool = False) -> tuple[Case, ...]:
        """Every case of the county, worst first."""
        every = (case for state in self.places.values() for case in state.cases)
        return tuple(sorted((case for case in every if case.state.open or not open_only), key=worst_first))

    def case(self, name: str) -> Case | None:
        """The case with this name, or None."""
        parts = name.split(".")
        for length in range(1, len(parts)):
            state = self.places.get(".".join(parts[:length]))
            found = next((case for case in state.cases if case.case == name), None) if state else None
            if found:
                return found
        return None


def known(entries: Iterable[Entry], at: datetime) -> tuple[Entry, ...]:
    """What the office knew at a moment: everything received by then."""
    return tuple(entry for entry in entries if entry.received_at <= at)


def happened(entries: Iterable[Entry], at: datetime) -> tuple[Entry, ...]:
    """What was true at a moment, as far as is known now: all that happened by then, with every correction applied."""
    every = tuple(entries)
    moments = _moments_put_right(every)
    return tuple(
        entry
        for entry in every
        if entry.kind is Kind.CORRECTION or moments.get((entry.place, entry.key), entry.happened_at) <= at
    )


def _moments_put_right(entries: tuple[Entry, ...]) -> dict[tuple[str, str], datetime]:
    places = {entry.place for entry in entries if entry.kind is Kind.CORRECTION}
    at_place: dict[str, list[Entry]] = {place: [] for place in places}
    for entry in entries:
        if entry.place in at_place:
            at_place[entry.place].append(entry)
    return {
        (place, each.told.key): (each.stands or each.told).happened_at
        for place, told in at_place.items()
        for each in put_right(told)
    }
