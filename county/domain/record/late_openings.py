"""Late openings: how many minutes, what was the matter there, how it was told, and what ended it."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from county.domain.cases import Case, State
from county.domain.lost_time import minutes_late
from county.domain.picture import Picture
from county.domain.place_state import PlaceState
from county.domain.record.opening import Opening, opening
from county.domain.roster import Place

LATE = "late-opening"
_SIGNS = frozenset(
    {
        *(LATE, "expected-late", "step-overdue", "silent", "opened-early", "message-unseen"),
        *("not-closed", "not-received", "item-missing"),
    }
)
"""What shows that a place is late, or came after its day: none of it is what was the matter."""


@dataclass(frozen=True, slots=True)
class LateOpening:
    """One place that opened after its own opening time, or has not opened. Times are aware UTC, minutes whole.

    `minutes` run to its opening, or to now (at most to its closing) where it is not open. `trouble` is what was open
    there at its opening time or arose until it opened, worst first: the record does not say that it was the cause.
    `told` is what the place wrote beside its opening, `late` the case of the late opening, where there is one.

    Source of what a county reports of each: its time, its reason and its cure (NAC 293.217).
    """

    place: Place
    opens_at: datetime
    opened_at: datetime | None
    minutes: int
    opening: Opening | None
    late: Case | None
    trouble: tuple[Case, ...]
    told: str


def late_openings(picture: Picture, now: datetime) -> tuple[LateOpening, ...]:
    """Every late opening as of `now`, the latest first; a place that has not opened before one that has."""
    late = (_late(state, now) for state in picture.places.values())
    return tuple(sorted((each for each in late if each), key=_worst_first))


def _worst_first(each: LateOpening) -> tuple[bool, int, str]:
    return each.opened_at is not None, -each.minutes, each.place.place


def _late(state: PlaceState, now: datetime) -> LateOpening | None:
    expected, day = state.expected, state.day
    minutes = minutes_late(expected.opens_at, day.opened_at, min(now, expected.closes_at))
    if not minutes:
        return None
    how = opening(day)
    until = day.opened_at or now
    return LateOpening(
        place=expected.place,
        opens_at=expected.opens_at,
        opened_at=day.opened_at,
        minutes=minutes,
        opening=how,
        late=next((case for case in state.cases if case.exception == LATE), None),
        trouble=tuple(_trouble(state.cases, expected.opens_at, until)),
        told=how.report.text("note") if how else "",
    )


def _trouble(cases: Iterable[Case], opens_at: datetime, until: datetime) -> Iterable[Case]:
    for case in cases:
        stood = case.raised_at < until and (case.ended_at is None or case.ended_at > opens_at)
        if stood and case.state is not State.WITHDRAWN and case.exception not in _SIGNS:
            yield case
