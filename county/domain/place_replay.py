"""One place at any moment of its day, as known and as it happened, folded once for each time it looks otherwise."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from types import MappingProxyType

from county.domain.corrections import put_right
from county.domain.entries import REPORT_KINDS, Entry, Kind
from county.domain.expected import Expected
from county.domain.found import Memory
from county.domain.lost_time import minutes_late
from county.domain.place_state import PlaceState, state_of
from county.domain.plan import Plan
from county.domain.spells import Brief, Spell, Spells, turns_at
from county.domain.standing import Standing
from county.domain.taking_back import ENDED_BY_HEARING, Order, spell_back

NOWHERE: Mapping[str, PlaceState] = MappingProxyType({})
_REPORTS = frozenset(REPORT_KINDS)


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


class PlaceReplay:
    """One place's entries in the order learned and in the order they happened, with what was folded of them.

    `folded` are places as somebody else folded them, with this roster and plan, from the newest entries there were.
    """

    def __init__(self, expected: Expected, plan: Plan, folded: Mapping[str, PlaceState] = NOWHERE) -> None:
        self._expected = expected
        self._plan = plan
        self._turns_at = turns_at(expected, plan)
        self._entries: dict[str, Entry] = {}
        self._memory: Memory = {}
        self._folded = folded
        self._spells = {view: Spells() for view in View}
        self._last: tuple[int, View, PlaceState] | None = None
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
        self._last = None
        self._arrange()
        # before the first of the new ones nothing has changed, unless one of them speaks of an earlier report
        still = {View.KNOWN: known, View.HAPPENED: happened if alike and not self._corrections else -1}
        for view, spells in self._spells.items():
            spells.forget_after(still[view])

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
        heard_from = self._expected.heard_from
        self._orders = {
            View.KNOWN: Order(self._by_learned, True, moments, heard_from),
            View.HAPPENED: Order(self._by_happened, False, moments, heard_from),
        }
        self._can = {view: order.can_be_taken_back() for view, order in self._orders.items()}

    def _reach(self) -> Iterator[int]:
        """For each number of entries learned: as many of the first to happen would have to be taken to have them all.

        Where that is as many, the first so many learned are the first so many that happened.
        """
        rank = {entry.key: number for number, entry in enumerate(self._by_happened, 1)}
        furthest = 0
        yield furthest
        for entry in self._by_learned:
            by_hearing = entry.kind is Kind.RAISED and entry.text("exception") == ENDED_BY_HEARING
            furthest = max(furthest, rank[entry.key] if not by_hearing else len(rank) + 1)
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
        brief = self.brief(self.count(at, view), view)
        return Glance(
            self._expected.place.place,
            brief.after if at >= self._turns_at else brief.before,
            brief.opened_at,
            minutes_late(self._expected.opens_at, brief.opened_at, min(at, self._expected.closes_at)),
            brief.open_cases,
        )

    def fold_ahead(self) -> None:
        """Fold the place as of every moment, so that it need not be later."""
        for view in View:
            number = len(self._orders[view].entries)
            while number >= 0:
                number = self._spell(number, view).first - 1

    def brief(self, number: int, view: View) -> Brief:
        """How the place looks with so many of its entries, in brief; one value for as long as it looks the same."""
        return self._spell(number, view).brief

    def _spell(self, number: int, view: View) -> Spell:
        spell = self._spells[view].at(number)
        if spell is None:
            spell = self._looked_back(number, view)
            self._spells[view].keep(spell)
        return spell

    def _as_far_as(self, number: int, view: View) -> int:
        """The most entries from which those above this number can be taken back again."""
        can = self._can[view]
        while number + 1 < len(can) and can[number + 1]:
            number += 1
        return number

    def _looked_back(self, number: int, view: View) -> Spell:
        """How the place looked with so many entries: folded with as many as can be taken back again."""
        folded = self._as_far_as(number, view)
        alike = self._is_as_known(folded)
        state = self._folded_with(folded, View.KNOWN if alike else view)
        return spell_back(state, folded, number, self._orders[view], self._can[view], self._plan)

    def _folded_with(self, number: int, view: View) -> PlaceState:
        """The place with so many entries; the last one folded is kept, and what was folded elsewhere is taken."""
        elsewhere = self._folded.get(self._expected.place.place)
        if view is View.KNOWN and elsewhere is not None and len(elsewhere.day.told) == number == len(self._entries):
            return elsewhere
        if self._last is None or self._last[:2] != (number, view):
            self._last = (number, view, self._state(number, view))
        return self._last[2]

    def _is_as_known(self, number: int) -> bool:
        """Whether the first so many that happened are the first so many learned, and the place was heard from alike."""
        if not self._alike or number >= len(self._alike) or self._alike[number] != number:
            return False
        heard_from = self._expected.heard_from
        reports = [entry for entry in self._by_happened[:number] if entry.kind in _REPORTS]
        heard = any(entry.happened_at >= heard_from for entry in reports)
        return heard == any(entry.received_at >= heard_from for entry in reports)
