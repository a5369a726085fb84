"""How a place looked, and for how long: from so many of its entries to so many, as far as it was folded."""

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from county.domain.cases import Case
from county.domain.expected import Expected
from county.domain.place_state import PlaceState, open_troubles
from county.domain.plan import Plan
from county.domain.standing import Standing, standing

_LONG_AGO = datetime.min.replace(tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Brief:
    """What a glance needs of a folded place: its standing turns once, at its opening time, by time alone."""

    before: Standing
    after: Standing
    opened_at: datetime | None
    open_cases: tuple[str, ...]


def turns_at(expected: Expected, plan: Plan) -> datetime:
    """When a place that is not open is late (aware UTC)."""
    return expected.opens_at + plan.limits.late_grace


def brief_of(state: PlaceState, cases: Sequence[Case], plan: Plan) -> Brief:
    """A folded place with these cases in brief."""
    late_at = turns_at(state.expected, plan)
    return Brief(
        before=standing(state.day, cases, state.expected, plan, _LONG_AGO),
        after=standing(state.day, cases, state.expected, plan, late_at),
        opened_at=state.day.opened_at,
        open_cases=tuple(case.case for case in open_troubles(cases)),
    )


@dataclass(frozen=True, slots=True)
class Spell:
    """With so many entries, from the first number to the last, a place looks the same."""

    first: int
    last: int
    brief: Brief


class Spells:
    """The spells of one place and view that are known."""

    def __init__(self) -> None:
        self._spells: list[Spell] = []
        self._lasts: list[int] = []

    def at(self, number: int) -> Spell | None:
        """The spell in which so many entries lie; None where it is not known."""
        found = bisect_left(self._lasts, number)
        spell = self._spells[found] if found < len(self._lasts) else None
        return spell if spell and spell.first <= number else None

    def keep(self, spell: Spell) -> None:
        at = bisect_left(self._lasts, spell.last)
        self._spells.insert(at, spell)
        self._lasts.insert(at, spell.last)

    def forget_after(self, number: int) -> None:
        """Only with so many entries at most is everything as it was."""
        kept = [each for each in self._spells if each.first <= number]
        self._spells = [Spell(each.first, min(each.last, number), each.brief) for each in kept]
        self._lasts = [each.last for each in self._spells]
