"""The same trouble at many places: one cause may lie behind it, and it weighs more than each case alone."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from county.domain.cases import Case, State
from county.domain.chance import by_chance, one_in
from county.domain.effects import Effect, worst
from county.domain.pattern_scopes import COUNTY, Scope, along_each, shares
from county.domain.roster import Roster


@dataclass(frozen=True, slots=True)
class PatternLimits:
    """How many places within how long make a pattern: anywhere in the county, or along one zone, route or model.

    Along one of these fewer coincidences are expected, so the time allowed is longer. What chance alone would bring
    more often than `chance` is not linked.
    """

    places: int = 3
    within: timedelta = timedelta(minutes=30)
    along: timedelta = timedelta(minutes=120)
    chance: float = 0.1


@dataclass(frozen=True, slots=True)
class Pattern:
    """One kind of trouble at `places`, along a `scope` (county, zone, route or model) of that `name`.

    `most` places fell into one window of `within`; `probability` is that of so many or more there by chance (see
    `by_chance`) where `usual` are to be expected. `effect` is one step worse than the worst of the cases. `key` stays
    the same while the pattern grows.
    """

    key: str
    exception: str
    scope: str
    name: str
    cases: tuple[str, ...]
    places: tuple[str, ...]
    begins: datetime
    ends: datetime
    most: int
    within: timedelta
    usual: float
    probability: float
    effect: Effect
    open: bool

    @property
    def chance_says(self) -> str:
        """`1 in 900`."""
        return one_in(self.probability)


def patterns(
    cases: Iterable[Case], roster: Roster, since: datetime, now: datetime, limits: PatternLimits | None = None
) -> tuple[Pattern, ...]:
    """The patterns among a county's cases, least likely first; no case is in two.

    `since` is when the day began to be watched (aware UTC). Withdrawn cases count for nothing; ended ones do, because
    the cause may still be there.
    """
    limits = limits or PatternLimits()
    by_kind: dict[str, list[Case]] = {}
    for case in sorted(cases, key=lambda each: (each.raised_at, each.case)):
        if case.state is not State.WITHDRAWN and case.exception != "same-trouble":
            by_kind.setdefault(case.exception, []).append(case)
    share_of = shares(roster)
    found = [each for kind in by_kind.values() for each in _of_one_kind(kind, roster, share_of, now - since, limits)]
    return tuple(sorted(found, key=lambda each: (each.probability, each.key)))


def one_step_worse(effect: Effect) -> Effect:
    """The next worse effect. Many stopped places are not a danger to people, so it ends at stopped."""
    return effect if effect.rank <= Effect.STOPPED.rank else tuple(Effect)[effect.rank - 1]


def _of_one_kind(
    cases: Sequence[Case], roster: Roster, share_of: Mapping[Scope, float], watched: timedelta, limits: PatternLimits
) -> Iterator[Pattern]:
    """The least likely pattern first, then what the cases it leaves still make."""
    left = list(cases)
    while True:
        candidates = [
            _pattern(run, scope, share_of.get(scope, 1.0), len(cases) - len(run), watched, window)
            for scope, along in along_each(left, roster).items()
            for window in [limits.within if scope == COUNTY else limits.along]
            for run in _runs(along, window, limits.places)
        ]
        unlikely = [each for each in candidates if each.probability <= limits.chance]
        if not unlikely:
            return
        best = min(unlikely, key=lambda each: (each.probability, -len(each.cases), each.scope, each.name))
        yield best
        linked = set(best.cases)
        left = [case for case in left if case.case not in linked]


def _runs(cases: Sequence[Case], window: timedelta, places: int) -> Iterator[list[Case]]:
    """Runs of cases (given in order of time) that each lie in some window with enough places.

    A gap longer than the window, or a case that lies in no such window, parts two runs.
    """
    run_begins, run_ends = 0, 0
    for first, last, count in _windows(cases, window):
        if count < places:
            continue
        if first >= run_ends:
            if run_ends:
                yield list(cases[run_begins:run_ends])
            run_begins = first
        run_ends = last
    if run_ends:
        yield list(cases[run_begins:run_ends])


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


def _pattern(
    run: Sequence[Case],
    scope: Scope,
    share: float,
    outside: int,
    watched: timedelta,
    window: timedelta,
) -> Pattern:
    most = max(count for _, _, count in _windows(run, window))
    usual = (outside + 1) * (window / max(watched, window)) * share
    return Pattern(
        key=f"{run[0].exception}.{run[0].case}",
        exception=run[0].exception,
        scope=scope[0],
        name=scope[1],
        cases=tuple(case.case for case in run),
        places=tuple(dict.fromkeys(case.place for case in run)),
        begins=run[0].raised_at,
        ends=run[-1].raised_at,
        most=most,
        within=window,
        usual=usual,
        probability=by_chance(most, usual),
        effect=one_step_worse(worst(*(case.effect for case in run))),
        open=any(case.state.open for case in run),
    )
