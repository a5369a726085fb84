"""Forecasts against what happened: which places were expected to open late, which did, and which nobody expected.

These are the ones that became a case, said by the clock or by people; `forecast_scores` looks at every place's chance.
"""

from dataclasses import dataclass
from datetime import datetime

from county.domain.cases import Case, State
from county.domain.moments import parse_moment, whole_minutes
from county.domain.picture import Picture
from county.domain.place_state import PlaceState
from county.domain.record.late_openings import LateOpening, late_openings
from county.domain.roster import Place


@dataclass(frozen=True, slots=True)
class Forecast:
    """One place that was expected to open late. Times are aware UTC, minutes whole.

    `case` is the expectation as the ledger holds it: when it was raised, by whom, what it said. `chance` is the chance
    said, in per cent, and `likely_at` the likely opening; None where a person said it. `minutes_late` is 0 where the
    place opened in time. `came_true` is None while it is not open and its time has not come.
    """

    place: Place
    case: Case
    chance: int | None
    likely_at: datetime | None
    opens_at: datetime
    opened_at: datetime | None
    minutes_late: int
    came_true: bool | None

    @property
    def minutes_before(self) -> int:
        """How long before the place's own opening it was first said."""
        return whole_minutes(self.opens_at - self.case.learned_at)


@dataclass(frozen=True, slots=True)
class ForecastRecord:
    """`told`: what was expected, by when it was said. `unforeseen`: late openings of which nobody had said so before
    the place's opening time."""

    told: tuple[Forecast, ...]
    unforeseen: tuple[LateOpening, ...]

    @property
    def came_true(self) -> int:
        return sum(each.came_true is True for each in self.told)

    @property
    def did_not(self) -> int:
        return sum(each.came_true is False for each in self.told)


def forecasts(picture: Picture, now: datetime) -> ForecastRecord:
    """Every expectation of a late opening learned before the place's opening time, against its opening."""
    late = {each.place.place: each for each in late_openings(picture, now)}
    told = []
    for state in picture.places.values():
        opens_at, opened_at = state.expected.opens_at, state.day.opened_at
        for case in state.cases:
            if case.exception == "expected-late" and case.learned_at < opens_at and not _taken_back(case, opens_at):
                found = late.get(case.place)
                came_true = bool(found) if opened_at or now >= opens_at else None
                minutes = found.minutes if found else 0
                chance, likely_at = _figures(case, state)
                place = state.expected.place
                told.append(Forecast(place, case, chance, likely_at, opens_at, opened_at, minutes, came_true))
    said = {each.place.place for each in told}
    unforeseen = tuple(each for place, each in late.items() if place not in said)
    return ForecastRecord(tuple(sorted(told, key=lambda each: (each.case.learned_at, each.case.case))), unforeseen)


def _figures(case: Case, state: PlaceState) -> tuple[int | None, datetime | None]:
    """What the clock first said: the chance and the likely opening."""
    said = [entry for entry in state.day.raised if entry.key in case.reports]
    first = min(said, key=lambda entry: entry.received_at, default=None)
    if first is None or "chance_late" not in first.fields:
        return None, None
    return first.number("chance_late"), parse_moment(first.text("likely_open_at"))


def _taken_back(case: Case, opens_at: datetime) -> bool:
    """Whether it was withdrawn before the opening time, so that nobody expected it any more."""
    return case.state is State.WITHDRAWN and case.ended_at is not None and case.ended_at < opens_at
