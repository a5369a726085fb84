"""Silences: how long nothing was heard from a place that should have been heard from."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

from county.domain.cases import Case
from county.domain.picture import Picture
from county.domain.place_state import PlaceState
from county.domain.plan import Limits
from county.domain.roster import Place


@dataclass(frozen=True, slots=True)
class Silence:
    """One place not heard from for longer than the plan allows. Times are aware UTC.

    It runs from `since`, when the place was last heard from (or its first step was due), to `until`, when it was heard
    from again (or had closed); None while it lasts. `noticed` is the case that the clock raised, where there is one.
    """

    place: Place
    since: datetime
    until: datetime | None
    allowed: timedelta
    length: timedelta
    noticed: Case | None


def silences(picture: Picture, now: datetime) -> tuple[Silence, ...]:
    """Every silence as of `now`, those that still last first, then the longest."""
    every = (each for state in picture.places.values() for each in _of_place(state, picture.plan.limits, now))
    return tuple(sorted(every, key=lambda each: (each.until is not None, -each.length, each.place.place, each.since)))


def _of_place(state: PlaceState, limits: Limits, now: datetime) -> list[Silence]:
    expected, day = state.expected, state.day
    begins = expected.first_due_at
    ends = [moment for moment in (day.closed_at, day.received_at) if moment]
    over = min(ends) if ends else now
    heard = [begins, *(moment for moment in day.heard if begins < moment < over)]
    still = not ends
    gaps = [*pairwise(heard), (heard[-1], over)]
    found = []
    for number, (since, until) in enumerate(gaps):
        opened = day.opened_at is not None and day.opened_at <= since
        allowed = limits.silent_after if opened else limits.silent_after_before_opening
        if until - since > allowed:
            lasts = still and number == len(gaps) - 1
            noticed = _noticed(state, since, until)
            found.append(Silence(expected.place, since, None if lasts else until, allowed, until - since, noticed))
    return found


def _noticed(state: PlaceState, since: datetime, until: datetime) -> Case | None:
    cases = (case for case in state.cases if case.exception == "silent")
    return next((case for case in cases if since <= case.raised_at <= until), None)
