"""Time lost at each place: its late opening and its stops as a union, and the closing that would give it back."""

from dataclasses import dataclass
from datetime import datetime

from county.domain.interruptions import Interruption
from county.domain.lost_intervals import Lost, lost_intervals
from county.domain.lost_time import extended_close, lost_time, minutes_late
from county.domain.moments import whole_minutes
from county.domain.picture import Picture
from county.domain.place_state import PlaceState
from county.domain.plan import Plan
from county.domain.roster import Place


@dataclass(frozen=True, slots=True)
class TimeLost:
    """What one place lost as of a moment, in whole minutes; times aware UTC.

    Where `opened_at` is None the place is not reported open: whether people could vote there the record does not say.
    `minutes` is the union of late opening and stops, overlaps once, cut at closing. `closes_if_given_back` is its
    closing with every minute given back where the plan's threshold is reached, else its own. `impaired` are the
    intervals in which voting was slower or by a fallback, or a device stood: recorded, not counted.
    """

    place: Place
    opens_at: datetime
    opened_at: datetime | None
    closes_at: datetime
    late_minutes: int
    stops: tuple[Lost, ...]
    minutes: int
    closes_if_given_back: datetime
    impaired: tuple[Interruption, ...]

    @property
    def reaches_threshold(self) -> bool:
        return self.closes_if_given_back > self.closes_at


def time_lost(picture: Picture, now: datetime) -> tuple[TimeLost, ...]:
    """Every place that lost time or had an interruption, as of `now`, the most minutes first."""
    lost = (_of_place(state, picture.plan, now) for state in picture.places.values())
    return tuple(
        sorted(
            (each for each in lost if each.minutes or each.stops or each.impaired),
            key=lambda each: (-each.minutes, each.place.place),
        )
    )


def _of_place(state: PlaceState, plan: Plan, now: datetime) -> TimeLost:
    expected, day = state.expected, state.day
    every = [each for each in lost_intervals(state, now) if each.ends > each.begins]
    minutes = whole_minutes(lost_time([e.interval for e in every], expected.opens_at, expected.closes_at))
    limits = plan.limits
    counted = {each.why.key for each in every if each.why}
    return TimeLost(
        place=expected.place,
        opens_at=expected.opens_at,
        opened_at=day.opened_at,
        closes_at=expected.closes_at,
        late_minutes=minutes_late(expected.opens_at, day.opened_at, min(now, expected.closes_at)),
        stops=tuple(each for each in every if each.why),
        minutes=minutes,
        closes_if_given_back=extended_close(
            expected.closes_at, minutes, limits.extension_minutes, inclusive=limits.extension_inclusive
        ),
        impaired=tuple(each for each in day.interruptions if each.key not in counted),
    )
