"""One place's entries in the order the office learned them and in the order they happened."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime
from enum import StrEnum

from county.domain.corrections import put_right
from county.domain.entries import REPORT_KINDS, Entry, Kind
from county.domain.taking_back import ENDED_BY_HEARING, Order, stands_alone

_REPORTS = frozenset(REPORT_KINDS)


class View(StrEnum):
    """What is looked at: what the office knew at a moment, or what was true then as far as is known now."""

    KNOWN = "known"
    HAPPENED = "happened"


class BothOrders:
    """The entries, arranged when somebody asks; `heard_from` is since when being heard counts (aware UTC)."""

    def __init__(self, heard_from: datetime) -> None:
        self._heard_from = heard_from
        self._coming: list[Entry] = []
        self._entries: dict[str, Entry] = {}
        self._bound: set[str] = set()
        self._arrange()

    def __len__(self) -> int:
        return len(self._entries)

    def add(self, told: Iterable[Entry]) -> None:
        """Take in more, in any order and any number of times."""
        self._coming.extend(told)

    def arrange(self) -> Mapping[View, int] | None:
        """Put what came since in its order: with how many entries all is as it was; None where nothing is new."""
        if not self._coming:
            return None
        new = {entry.key: entry for entry in self._coming if entry.key not in self._entries}
        self._coming.clear()
        if not new:
            return None
        known = bisect_left(self._learned, min(entry.received_at for entry in new.values()))
        happened = bisect_left(self._happened, min(entry.happened_at for entry in new.values()))
        alike = not self._corrections
        self._entries |= new
        self._bound |= {entry.key for entry in new.values() if not stands_alone(entry)}
        self._arrange()
        # before the first of the new ones nothing has changed, unless one of them speaks of an earlier report
        return {View.KNOWN: known, View.HAPPENED: happened if alike and not self._corrections else -1}

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
        self.orders = {
            View.KNOWN: Order(self._by_learned, True, moments, self._heard_from),
            View.HAPPENED: Order(self._by_happened, False, moments, self._heard_from),
        }
        self.can = {view: order.can_be_taken_back(self._bound) for view, order in self.orders.items()}

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
        """How many of the entries count at a moment."""
        return bisect_right(self._learned if view is View.KNOWN else self._happened, at)

    def first(self, number: int, view: View) -> list[Entry]:
        """So many of them; whatever the number, what happened is read with every correction."""
        if view is View.KNOWN:
            return self._by_learned[:number]
        return [*self._by_happened[:number], *self._corrections]

    def as_far_as(self, number: int, view: View) -> int:
        """The most entries from which those above this number can be taken back again."""
        can = self.can[view]
        while number + 1 < len(can) and can[number + 1]:
            number += 1
        return number

    def is_as_known(self, number: int) -> bool:
        """Whether the first so many that happened are the first so many learned, and the place was heard from alike."""
        if not self._alike or number >= len(self._alike) or self._alike[number] != number:
            return False
        reports = [entry for entry in self._by_happened[:number] if entry.kind in _REPORTS]
        heard = any(entry.happened_at >= self._heard_from for entry in reports)
        return heard == any(entry.received_at >= self._heard_from for entry in reports)
