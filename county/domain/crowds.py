"""Cases crowded in time, more than the day's own rate would bring."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta

from county.domain.cases import Case
from county.domain.chance import by_chance


@dataclass(frozen=True, slots=True)
class Crowd:
    """One window: how many places are in it, how many are usual, and how likely so many or more are by chance."""

    places: int
    usual: float
    probability: float
    window: timedelta


@dataclass(frozen=True, slots=True)
class BaseRate:
    """`cases` of one kind in the `watched` time, of which a `share` is to be expected here."""

    cases: int
    watched: timedelta
    share: float
    window: timedelta

    def crowd(self, places: int, inside: int) -> Crowd:
        """A window with so many places and cases, against the rate outside it (see `by_chance`)."""
        usual = (self.cases - inside + 1) * (self.window / self.watched) * self.share
        return Crowd(places, usual, by_chance(places, usual), self.window)


def runs(cases: Sequence[Case], rate: BaseRate, places: int, chance: float) -> Iterator[tuple[int, int, Crowd]]:
    """Runs of cases, given in order of time, that each lie in a window crowded beyond chance: first, behind last, why.

    Windows that share a case make one run; its crowd is its least likely window.
    """
    begins, ends, least = 0, 0, Crowd(0, 0.0, 1.0, rate.window)
    for first, last, count in _windows(cases, rate.window):
        crowd = rate.crowd(count, last - first)
        if count < places or crowd.probability > chance:
            continue
        if first >= ends:
            if ends:
                yield begins, ends, least
            begins, least = first, crowd
        ends, least = last, min(least, crowd, key=lambda each: each.probability)
    if ends:
        yield begins, ends, least


def _windows(cases: Sequence[Case], window: timedelta) -> Iterator[tuple[int, int, int]]:
    """The window that begins with each case: its first, the one behind its last, and how many places are in it."""
    last, inside = 0, Counter[str]()
    for first, case in enumerate(cases):
        while last < len(cases) and cases[last].raised_at - case.raised_at <= window:
            inside[cases[last].place] += 1
            last += 1
        yield first, last, len(inside)
        inside[case.place] -= 1
        if not inside[case.place]:
            del inside[case.place]
