"""One place at any moment of its day, as known and as it happened, folded once for each of its entries at most."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from enum import StrEnum

from county.domain.corrections import put_right
from county.domain.entries import REPORT_KINDS, Entry, Kind
from county.domain.expected import Expected
from county.domain.found import Memory
from county.domain.lost_time import minutes_late
from county.domain.place_state import PlaceState, open_troubles, state_of
from county.domain.plan import Plan
from county.domain.standing import Standing, standing

_REPORTS = frozenset(REPORT_KINDS)
_LONG_AGO = datetime.min.replace(tzinfo=UTC)


class View(StrEnum):
    """What is looked at: what the office knew at a moment, or what was true then as far as is known now."""

    KNOWN = "known"
    HAPPENED = "happened"


@dataclass(frozen=True, slots=True)
class Glance:
    """One place at a moment in brief. Times are aware UTC, minutes whole, cases named by id, worst first."""

    place: str
    standing: Standing
    opened_at: datetime | None
    minutes_late: int
    open_cases: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Brief:
    """What a glance needs of a folded place: its standing turns once, at its opening time, by time alone."""

    before: Standing
    after: Standing
    opened_at: datetime | None
    open_cases: tuple[str, ...]


class PlaceReplay:
    """One place's entries in the order learned and in the order they happened, with what was folded of them."""

    def __init__(self, expected: Expected, plan: Plan) -> None:
        self._expected = expected
        self._plan = plan
        self._turns_at = expected.opens_at + plan.limits.late_grace
        self._entries: dict[str, Entry] = {}
        self._memory: Memory = {}
        self._briefs: dict[tuple[View, int], _Brief] = {}
        self._arrange()

    def add(self, told: Iterable[Entry]) -> None:
        """Take in more; what was folded before is dropped where something changed."""
        new = {entry.key: entry for entry in told if entry.key not in self._entries}
        if not new:
            return
        known = bisect_left(self._learned, min(entry.received_at for entry in new.values()))
        happened = bisect_left(self._happened, min(entry.happened_at for entry in new.values()))
        alike = not self._corrections
        self._entries |= new
        self._arrange()
        # before the first of the new ones nothing has changed, unless one of them speaks of an earlier report
        still = {View.KNOWN: known, View.HAPPENED: happened if alike and not self._corrections else -1}
        self._briefs = {each: brief for each, brief in self._briefs.items() if each[1] <= still[each[0]]}

    def _arrange(self) -> None:
        every = list(self._entries.values())
        corrections = [entry for entry in every if entry.kind is Kind.CORRECTION]
        moments = (
            {each.told.key: (each.stands or each.told).happened_at for each in put_right(every)} if corrections else {}
        )
        self._corrections = corrections
        self._by_learned = sorted(every, key=lambda entry: entry.received_at)
        others = [entry for entry in every if entry.kind is not Kind.CORRECTION] if corrections else every
        self._by_happened = sorted(others, key=lambda entry: moments.get(entry.key, entry.happened_at))
        self._learned = [entry.received_at for entry in self._by_learned]
        self._happened = [moments.get(entry.key, entry.happened_at) for entry in self._by_happened]
        self._alike = [] if corrections else list(self._reach())

    def _reach(self) -> Iterator[int]:
        """For each number of entries learned: as many of the first to happen would have to be taken to have them all.

        Where that is as many, the first so many learned are the first so many that happened.
        """
        rank = {entry.key: number for number, entry in enumerate(self._by_happened, 1)}
        furthest = 0
        yield furthest
        for entry in self._by_learned:
            # what the clock found out may depend on when a place was heard from
            furthest = max(furthest, rank[entry.key] if entry.kind is not Kind.RAISED else len(rank) + 1)
            yield furthest

    def count(self, at: datetime, view: View) -> int:
        """How many of the entries count at a moment; the place looks the same while this does not change."""
        return bisect_right(self._learned if view is View.KNOWN else self._happened, at)

    def told(self, at: datetime, view: View) -> list[Entry]:
        """The entries that count at a moment."""
        return self._first(self.count(at, view), view)

    def _first(self, number: int, view: View) -> list[Entry]:
        if view is View.KNOWN:
            return self._by_learned[:number]
        return [*self._by_happened[:number], *self._corrections]

    def state(self, at: datetime, view: View) -> PlaceState:
        return self._state(self.count(at, view), view)

    def _state(self, number: int, view: View) -> PlaceState:
        known = view is View.KNOWN
        return state_of(
            self._expected,
            self._first(number, view),
            self._plan,
            # what is learned later does not change what was found before a correction; what happened may
            self._memory if known else {},
            heard_by_happening=not known,
        )

    def glance(self, at: datetime, view: View) -> Glance:
        brief = self._brief(self.count(at, view), view)
        return Glance(
            self._expected.place.place,
            brief.after if at >= self._turns_at else brief.before,
            brief.opened_at,
            minutes_late(self._expected.opens_at, brief.opened_at, min(at, self._expected.closes_at)),
            brief.open_cases,
        )

    def fold_ahead(self, at: datetime) -> bool:
        counts = [(view, self.count(at, view)) for view in View]
        new = [each for each in counts if each not in self._briefs]
        for view, number in new:
            self._brief(number, view)
        return bool(new)

    def _brief(self, number: int, view: View) -> _Brief:
        brief = self._briefs.get((view, number))
        if brief is None:
            brief = self._briefs[view, number] = self._fold(number, view)
        return brief

    def _fold(self, number: int, view: View) -> _Brief:
        if view is View.HAPPENED and self._is_as_known(number):
            return self._brief(number, View.KNOWN)
        state = self._state(number, view)
        return _Brief(
            before=standing(state.day, state.cases, state.expected, self._plan, _LONG_AGO),
            after=standing(state.day, state.cases, state.expected, self._plan, self._turns_at),
            opened_at=state.day.opened_at,
            open_cases=tuple(case.case for case in open_troubles(state.cases)),
        )

    def _is_as_known(self, number: int) -> bool:
        """Whether the first so many that happened are the first so many learned, and the place was heard from alike."""
        if not self._alike or self._alike[number] != number:
            return False
        heard_from = self._expected.heard_from
        reports = [entry for entry in self._by_happened[:number] if entry.kind in _REPORTS]
        heard = any(entry.happened_at >= heard_from for entry in reports)
        return heard == any(entry.received_at >= heard_from for entry in reports)
