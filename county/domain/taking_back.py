"""How a place looked with fewer entries: what the last of them added is taken back, instead of folding it anew.

A rule looks back and never ahead. So what happened later than all the rest adds findings of its own and may end
earlier ones, and changes nothing else; `tests/domain/test_replay.py` holds the rules to it.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from itertools import accumulate, chain

from county.domain.case_lives import cases_of
from county.domain.entries import REPORT_KINDS, Entry, Kind
from county.domain.findings import Finding
from county.domain.place_state import PlaceState
from county.domain.plan import Plan
from county.domain.rules.opening import clock_is_off
from county.domain.rules.same_trouble import is_of_a_pattern
from county.domain.spells import Spell, brief_of

ENDED_BY_HEARING = "silent"
"""The one kind of trouble that ends when a place is heard from, whatever it says."""
_ALONE = frozenset(
    {
        *(Kind.COUNT, Kind.NOTE, Kind.NOTICE, Kind.MESSAGE, Kind.MESSAGE_SEEN),
        *(Kind.EXCEPTION, Kind.ACTION, Kind.RAISED),
    }
)
"""Kinds of which each entry stands alone. Steps move when others were done, interruptions lengthen those before."""
_REPORTS = frozenset(REPORT_KINDS)
_LONG_AGO = datetime.min.replace(tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Order:
    """One place's entries in the order learned, or else in which they happened (`by_learning`).

    `moments` are those to which corrections moved reports, by key; `heard_from` is since when being heard counts.
    """

    entries: Sequence[Entry]
    by_learning: bool
    moments: Mapping[str, datetime]
    heard_from: datetime

    def can_be_taken_back(self, bound: Collection[str]) -> list[bool]:
        """For each number of entries: whether the last of so many can be taken back.

        It happened later than all before it (and was learned later, where that is the order), is not one of those
        that are `bound` to others, by key, no correction speaks of it, and the place had been heard from before.
        """
        happened = [entry.happened_at for entry in self.entries]
        told = (max(entry.happened_at, self.moments.get(entry.key, _LONG_AGO)) for entry in self.entries)
        latest = accumulate(told if self.moments else happened, max)
        can = [at > before for at, before in zip(happened, chain((_LONG_AGO,), latest), strict=False)]
        if self.by_learning:
            learned = [entry.received_at for entry in self.entries]
            earlier = (_LONG_AGO, *learned)
            can = [later and at > before for later, at, before in zip(can, learned, earlier, strict=False)]
        first = next((entry.key for entry in self.entries if self._is_heard(entry)), "")
        stay = {first, *bound, *self.moments}
        return [False, *(later and entry.key not in stay for later, entry in zip(can, self.entries, strict=True))]

    def _is_heard(self, entry: Entry) -> bool:
        at = entry.received_at if self.by_learning else entry.happened_at
        return entry.kind in _REPORTS and at >= self.heard_from and entry.key not in self.moments

    def without(self, found: Sequence[Finding], last: Entry) -> list[Finding]:
        """What was found before the last entry, which can be taken back: nothing that it raised or ended."""
        return [
            replace(finding, clears_at=None, clears_says="") if self._ended(finding, last) else finding
            for finding in found
            if finding.cause != last.key
        ]

    def _ended(self, finding: Finding, last: Entry) -> bool:
        by_hearing = self.by_learning and finding.exception == ENDED_BY_HEARING
        return finding.clears_at == (last.received_at if by_hearing else last.happened_at)


def stands_alone(entry: Entry) -> bool:
    """Whether it changes nothing of what was told before it, and nothing of how that is read."""
    # a sender's clock that is off is found at the first report learned, whichever happened first
    return entry.kind in _ALONE and not is_of_a_pattern(entry) and not clock_is_off(entry)


def spell_back(state: PlaceState, number: int, wanted: int, order: Order, can: Sequence[bool], plan: Plan) -> Spell:
    """How a place looked with the wanted number of entries, and from how many to how many it looked the same.

    `state` is the place folded with the first `number` of them; all above the wanted number can be taken back.
    """
    found, last = list(state.found), number
    causes, ends = {each.cause for each in found}, {each.clears_at for each in found}
    actions = list(state.day.actions)
    while can[number]:
        entry = order.entries[number - 1]
        did = entry.kind is Kind.ACTION
        if did or entry.key in causes or entry.happened_at in ends or entry.received_at in ends:
            fewer = order.without(found, entry)
            if did or fewer != found:
                if number <= wanted:
                    break
                found, last = fewer, number - 1
                actions = [action for action in actions if action.key != entry.key]
        number -= 1
    untouched = len(actions) == len(state.day.actions) and found == list(state.found)
    types = state.expected.device_types
    cases = state.cases if untouched else cases_of(state.day.place, found, actions, plan.kind, types)
    return Spell(number, last, brief_of(state, cases, plan))
