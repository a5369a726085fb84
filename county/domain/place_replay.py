"""One place at any moment of its day, as known and as it happened, folded once for each time it looks otherwise."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from types import MappingProxyType

from county.domain.both_orders import BothOrders, View
from county.domain.entries import Entry
from county.domain.expected import Expected
from county.domain.found import Memory
from county.domain.lost_time import minutes_late
from county.domain.place_state import PlaceState, state_of
from county.domain.plan import Plan
from county.domain.spells import Brief, Spell, Spells, turns_at
from county.domain.standing import Standing
from county.domain.taking_back import spell_back

NOWHERE: Mapping[str, PlaceState] = MappingProxyType({})


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
        self._orders = BothOrders(expected.heard_from)
        self._memory: Memory = {}
        self._folded = folded
        self._spells = {view: Spells() for view in View}
        self._last: tuple[int, View, PlaceState] | None = None
        self._is_folded_ahead = False

    def add(self, told: Iterable[Entry]) -> None:
        """Take in more, in any order and any number of times."""
        self._orders.add(told)

    def arrange(self) -> None:
        """Put what came since in its place, so that nobody need wait for it later; whoever asks does it before."""
        still = self._orders.arrange()
        if still is not None:
            self._last, self._is_folded_ahead = None, False
            for view, spells in self._spells.items():
                spells.forget_after(still[view])

    def count(self, at: datetime, view: View) -> int:
        """How many of the entries count at a moment; the place looks the same while this does not change."""
        self.arrange()
        return self._orders.count(at, view)

    def told(self, at: datetime, view: View) -> list[Entry]:
        """The entries that count at a moment."""
        return self._orders.first(self.count(at, view), view)

    def state(self, at: datetime, view: View) -> PlaceState:
        return self._state(self.count(at, view), view)

    def _state(self, number: int, view: View) -> PlaceState:
        known = view is View.KNOWN
        return state_of(
            self._expected,
            self._orders.first(number, view),
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
        self.arrange()
        if self._is_folded_ahead:
            return
        for view in View:
            number = len(self._orders.orders[view].entries)
            while number >= 0:
                number = self._spell(number, view).first - 1
        self._is_folded_ahead = True

    def brief(self, number: int, view: View) -> Brief:
        """How the place looks with so many of its entries, in brief; one value for as long as it looks the same."""
        self.arrange()
        return self._spell(number, view).brief

    def _spell(self, number: int, view: View) -> Spell:
        spell = self._spells[view].at(number)
        if spell is None:
            spell = self._looked_back(number, view)
            self._spells[view].keep(spell)
        return spell

    def _looked_back(self, number: int, view: View) -> Spell:
        """How the place looked with so many entries: folded with as many as can be taken back again."""
        folded = self._orders.as_far_as(number, view)
        alike = self._orders.is_as_known(folded)
        state = self._folded_with(folded, View.KNOWN if alike else view)
        return spell_back(state, folded, number, self._orders.orders[view], self._orders.can[view], self._plan)

    def _folded_with(self, number: int, view: View) -> PlaceState:
        """The place with so many entries; the last one folded is kept, and what was folded elsewhere is taken."""
        elsewhere = self._folded.get(self._expected.place.place)
        if view is View.KNOWN and elsewhere is not None and len(elsewhere.day.told) == number == len(self._orders):
            return elsewhere
        if self._last is None or self._last[:2] != (number, view):
            self._last = (number, view, self._state(number, view))
        return self._last[2]
