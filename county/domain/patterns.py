"""The same trouble at many places: one cause may lie behind it, and it weighs more than each case alone."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from county.domain.cases import Case, State
from county.domain.chance import one_in
from county.domain.crowds import BaseRate, Crowd, runs
from county.domain.effects import Effect, worst
from county.domain.exception_kinds import SAME_TROUBLE
from county.domain.pattern_limits import PatternLimits
from county.domain.pattern_scopes import COUNTY, Scope, along_each, shares
from county.domain.roster import Roster

# a message goes to many places at one moment, so that many have not acknowledged it says nothing of a common cause
_NO_COINCIDENCE = frozenset({SAME_TROUBLE, "message-unseen"})
# these become true at hours that many places share, so that falling together in time says nothing; only where does
_AT_SET_HOURS = frozenset(
    {
        *("late-opening", "expected-late", "step-overdue", "silent", "not-closed", "not-received"),
        *("out-of-balance", "item-missing", "custody-gap"),
    }
)


@dataclass(frozen=True, slots=True)
class Pattern:
    """One kind of trouble at `places`, along a `scope` (county, zone, route or model) of that `name`.

    `most` places fell into its least likely window, as long as `within`; `probability` is that of so many or more
    there by chance (see `by_chance`) where `usual` are to be expected, and it was looked for along `looks` zones,
    routes and models (1: the county). `effect` is one step worse than the worst of the cases. `key` stays the same
    while the pattern grows.
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
    looks: int
    effect: Effect
    open: bool

    @property
    def somewhere(self) -> float:
        """At most how likely it is by chance along any of those it was looked for (Bonferroni)."""
        return min(1.0, self.probability * self.looks)

    @property
    def chance_says(self) -> str:
        """`1 in 900`."""
        return one_in(self.probability)


def patterns(
    cases: Iterable[Case], roster: Roster, since: datetime, now: datetime, limits: PatternLimits | None = None
) -> tuple[Pattern, ...]:
    """The patterns among a county's cases, least likely first; no case is in two.

    `since` is when the day began to be watched (aware UTC). Withdrawn cases count for nothing; ended ones do, because
    the cause may still be there. What becomes true at set hours, such as a late opening, is no pattern of the county as
    a whole: many places share the hour. Along a zone, route or model it is held against what all the county had then.
    """
    limits = limits or PatternLimits()
    by_kind: dict[tuple[str, str], list[Case]] = {}
    for case in sorted(cases, key=lambda each: (each.raised_at, each.case)):
        if case.state is not State.WITHDRAWN and case.exception not in _NO_COINCIDENCE:
            by_kind.setdefault(_trouble(case), []).append(case)
    share_of = shares(roster)
    found = [each for kind in by_kind.values() for each in _of_one_kind(kind, roster, share_of, now - since, limits)]
    return tuple(sorted(found, key=lambda each: (each.probability, each.key)))


def _trouble(case: Case) -> tuple[str, str]:
    """What makes troubles the same: their kind, and of `other` trouble, which may be anything, the words as well."""
    return case.exception, " ".join(case.says.casefold().split()) if case.exception == "other" else ""


def one_step_worse(effect: Effect) -> Effect:
    """The next worse effect. Many stopped places are not a danger to people, so it ends at stopped."""
    return effect if effect.rank <= Effect.STOPPED.rank else tuple(Effect)[effect.rank - 1]


def _of_one_kind(
    cases: Sequence[Case], roster: Roster, share_of: Mapping[Scope, float], watched: timedelta, limits: PatternLimits
) -> Iterator[Pattern]:
    """The least likely patterns first, then what the cases they leave still make."""
    left = list(cases)
    at_set_hours = cases[0].exception in _AT_SET_HOURS
    while True:
        candidates = [
            _pattern(along[first:last], crowd, scope, looks)
            for scope, along in along_each(left, roster).items()
            if scope != COUNTY or not at_set_hours
            for looks in [1 if scope == COUNTY else len(share_of)]
            for window in limits.windows(countywide=scope == COUNTY)
            for first, last, crowd in runs(
                along,
                BaseRate(
                    len(cases), max(watched, window) if not at_set_hours else window, share_of.get(scope, 1.0), window
                ),
                limits.places,
                limits.chance / looks,
            )
        ]
        linked: set[str] = set()
        for each in sorted(candidates, key=lambda each: (each.somewhere, -len(each.cases), each.scope, each.name)):
            if linked.isdisjoint(each.cases):
                linked.update(each.cases)
                yield each
        if not linked:
            return
        left = [case for case in left if case.case not in linked]


def _pattern(run: Sequence[Case], crowd: Crowd, scope: Scope, looks: int) -> Pattern:
    return Pattern(
        key=f"{run[0].exception}.{run[0].case}",
        exception=run[0].exception,
        scope=scope[0],
        name=scope[1],
        cases=tuple(case.case for case in run),
        places=tuple(dict.fromkeys(case.place for case in run)),
        begins=run[0].raised_at,
        ends=run[-1].raised_at,
        most=crowd.places,
        within=crowd.window,
        usual=crowd.usual,
        probability=crowd.probability,
        looks=looks,
        effect=one_step_worse(worst(*(case.effect for case in run))),
        open=any(case.state.open for case in run),
    )
