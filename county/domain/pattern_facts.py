"""What has to be written down about patterns: one that began, one that has grown, one whose cases have all ended."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from county.domain.cases import Case
from county.domain.entries import Entry, Kind
from county.domain.exception_kinds import SAME_TROUBLE
from county.domain.milestones import reopenings
from county.domain.moments import whole_minutes
from county.domain.patterns import Pattern, patterns
from county.domain.picture import Picture
from county.domain.plan import Plan
from county.domain.rules.by_clock import STALE
from county.domain.rules.same_trouble import ENDED_SAYS, linked, patterns_told

GROWS_EVERY = timedelta(minutes=2)
"""A growing pattern is written down again at most so often, or when it has doubled: a burst is not a flood of facts."""


@dataclass(frozen=True, slots=True)
class Told:
    """What stands in the ledger of one pattern: where it began, the cases it names, and the case it is on the board.

    `said_at` is when it was last written down, `begun_at` since when it is one, `over` whether its end is written down.
    """

    place: str
    cause: str
    of: str
    links: frozenset[str]
    said_at: datetime
    begun_at: datetime
    over: bool
    case: Case | None

    @property
    def open(self) -> bool:
        return not self.over and self.case is not None and self.case.state.open


def pattern_facts(picture: Picture, now: datetime, clock: str) -> list[Entry]:
    """Every entry about patterns that is missing from the ledger as of `now` (aware UTC); `clock` is its word.

    A pattern stands at the place of its first case. One that a person has ended is not raised again for the same
    cases, only for new ones; one that ended by itself is, when a case of it is open again.
    """
    return [_entry(fact, now, clock) for fact in _facts(picture, now)]


@dataclass(frozen=True, slots=True)
class _Fact:
    """One fact about a pattern: of what it is made (so that it is written once), where, since when, what it says."""

    of: tuple[str, ...]
    place: str
    since: datetime
    fields: Mapping[str, object]


def _facts(picture: Picture, now: datetime) -> Iterator[_Fact]:
    cases = {case.case: case for state in picture.places.values() for case in state.cases}
    told = [one for state in picture.places.values() for one in _told(state.day.raised, state.cases, state.day.place)]
    grown: set[str] = set()
    for pattern in _seen(cases.values(), picture, now):
        own = [one for one in told if one.of == pattern.exception and not one.links.isdisjoint(pattern.cases)]
        new = [name for name in pattern.cases if not any(name in one.links for one in own)]
        standing = next((one for one in own if one.open), None)
        if standing is not None:
            grown |= {standing.cause} if new else set()
            if new and _is_worth_saying(standing, pattern, cases, now):
                # two that stood apart may have become one: each keeps its own cases, so that no case is in two
                others = {name for one in own if one.open and one is not standing for name in one.links}
                links = [name for name in pattern.cases if name not in others]
                links += sorted(standing.links - set(links))
                since = max(pattern.ends, standing.begun_at)
                yield _begun(pattern, standing.place, standing.cause, since, links, picture.plan)
        elif all(one.over for one in own) or any(cases[name].state.open for name in new):
            cause = pattern.key if not own else f"{pattern.key}/{len(own) + 1}"
            since = _again(pattern, own, cases) if own else pattern.ends
            yield _begun(pattern, cases[pattern.cases[0]].place, cause, since, pattern.cases, picture.plan)
    for one in told:
        if one.open and one.cause not in grown:
            left = [cases[name] for name in one.links if name in cases]
            ended_at = max((case.ended_at for case in left if case.ended_at), default=now)
            if not any(case.state.open for case in left) and now - ended_at <= STALE:
                yield _ended(one, ended_at)


def _seen(cases: Iterable[Case], picture: Picture, now: datetime) -> list[Pattern]:
    """The patterns of which a case is open; those of a past election are left alone."""
    watched = min((expected.first_due_at for expected in picture.expected.values()), default=now)
    if now <= watched:
        return []
    found = patterns(cases, picture.roster, watched, now, picture.plan.patterns)
    return [pattern for pattern in found if pattern.open and now - pattern.ends <= STALE]


def _told(raised: tuple[Entry, ...], cases: Sequence[Case], place: str) -> Iterator[Told]:
    for cause, entries in patterns_told(raised).items():
        keys = {entry.key for entry in entries}
        begun = [entry for entry in entries if not entry.fields.get("ends")]
        yield Told(
            place=place,
            cause=cause,
            of=entries[0].text("of"),
            links=frozenset(name for entry in begun for name in linked(entry)),
            said_at=max(entry.received_at for entry in entries),
            begun_at=min(entry.happened_at for entry in entries),
            over=len(begun) < len(entries),
            case=next((case for case in cases if not keys.isdisjoint(case.reports)), None),
        )


def _is_worth_saying(told: Told, pattern: Pattern, cases: Mapping[str, Case], now: datetime) -> bool:
    over = not any(cases[name].state.open for name in told.links if name in cases)
    worse = told.case is not None and pattern.effect.rank < told.case.effect.rank
    return over or worse or now - told.said_at >= GROWS_EVERY or len(pattern.cases) >= 2 * len(told.links)


def _again(pattern: Pattern, own: Iterable[Told], cases: Mapping[str, Case]) -> datetime:
    """Since when it is a pattern once more: not before it was over, not before a case of it was opened again."""
    over = [one.case.ended_at for one in own if one.case and one.case.ended_at]
    opened = [step.at for name in pattern.cases for step in reopenings(cases[name])]
    return max([pattern.ends, *over, *opened])


def _begun(pattern: Pattern, place: str, cause: str, since: datetime, links: Sequence[str], plan: Plan) -> _Fact:
    kind = plan.kind(pattern.exception).says
    minutes = whole_minutes(pattern.within)
    where = f" {_ALONG[pattern.scope]} {pattern.name}" if pattern.name else ""
    fields = {
        "exception": SAME_TROUBLE,
        "effect": pattern.effect.value,
        "says": f"{kind} at {len(pattern.places)} places{where}; {pattern.chance_says} by chance",
        "cause": cause,
        "of": pattern.exception,
        "cases": tuple(links),
        "expected": f"about {pattern.usual:.1g} within {minutes} min, as the day goes",
        "found": f"{pattern.most} within {minutes} min, {pattern.chance_says} by chance",
    }
    return _Fact((cause, str(len(links))), place, since, fields)


def _ended(told: Told, ended_at: datetime) -> _Fact:
    fields = {"exception": SAME_TROUBLE, "cause": told.cause, "of": told.of, "ends": True, "says": ENDED_SAYS}
    return _Fact((told.cause, "ended"), told.place, ended_at, fields)


def _entry(fact: _Fact, now: datetime, clock: str) -> Entry:
    return Entry(
        # the same pattern of the same size is one fact, so two clocks write it once
        key="/".join(("clock", SAME_TROUBLE, fact.place, *fact.of)),
        kind=Kind.RAISED,
        place=fact.place,
        happened_at=fact.since,
        received_at=now,
        by="clock",
        door="clock",
        sender="clock",
        fields=fact.fields,
        clock=clock,
    )


_ALONG: Mapping[str, str] = {"zone": "of zone", "route": "along delivery route", "model": "with the model"}
