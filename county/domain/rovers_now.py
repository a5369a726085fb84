"""Where each rover is, what holds it, and when it is free again, from the cases as they stand."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

from county.domain.cases import Case, State
from county.domain.dispatch_settings import DispatchSettings
from county.domain.plan import Election
from county.domain.roster import Place, Roster, Rover
from county.domain.travel import Spot, Travel


@dataclass(frozen=True, slots=True)
class Means:
    """What a county has to send and how it goes: roster, election day (for shifts), settings, and ways."""

    roster: Roster
    election: Election
    settings: DispatchSettings
    travel: Travel


@dataclass(frozen=True, slots=True)
class RoverNow:
    """One rover at this moment. Minutes are from now.

    `at` is where it was last known to be: its base, or the place it was last on site. `on_site` is the case it is at,
    `heading` the one it is under way to (empty: neither), `on_the_way` where that is and `gone` the share of the way
    done. `free_in` minutes the work on site is over or the shift begins; `until` the shift ends (infinite: no end).
    """

    rover: Rover
    at: Spot
    on_site: str
    heading: str
    on_the_way: Spot | None
    gone: float
    free_in: float
    until: float

    @property
    def idle(self) -> bool:
        """Whether it could set off at once."""
        return not self.on_site and not self.heading and self.free_in <= 0

    def minutes_to(self, ends: Sequence[Spot], travel: Travel) -> list[float]:
        """Minutes until it arrives at each of these spots, if it goes there next.

        On the way it is taken to be as far from anywhere as its share of the way says: exact along a straight road,
        and for its own goal.
        """
        from_here: list[float] = travel.table([self.at], ends)[0].tolist()
        if self.on_the_way is None:
            return [self.free_in + minutes for minutes in from_here]
        from_goal: list[float] = travel.table([self.on_the_way], ends)[0].tolist()
        return [(1 - self.gone) * here + self.gone * goal for here, goal in zip(from_here, from_goal, strict=True)]


def rovers_now(cases: Iterable[Case], means: Means, now: datetime) -> tuple[RoverNow, ...]:
    """Every rover of the roster as its cases leave it at `now` (aware UTC)."""
    by_rover: dict[str, list[Case]] = {}
    for case in cases:
        if case.rover:
            by_rover.setdefault(case.rover, []).append(case)
    return tuple(_rover_now(rover, by_rover.get(rover.rover, []), means, now) for rover in means.roster.rovers)


def spot_of(place: str, places: Mapping[str, Place]) -> Spot:
    """Where a place lies; without coordinates where the roster has none for it."""
    found = places.get(place)
    return Spot(place, found.latitude, found.longitude) if found else Spot(place)


def _rover_now(rover: Rover, cases: Sequence[Case], means: Means, now: datetime) -> RoverNow:
    starts_in, until = _shift(rover, means.election, now)
    moved = sorted((case for case in cases if _moved_at(case)), key=lambda case: (_moved_at(case), case.case))
    been = [case for case in moved if case.on_site_at]
    base = Spot(rover.rover, rover.latitude, rover.longitude)
    at = spot_of(been[-1].place, means.roster.place_by_id) if been else base
    latest = moved[-1] if moved else None
    if latest and latest.state is State.UNDER_WAY and latest.under_way_at:
        there = spot_of(latest.place, means.roster.place_by_id)
        way = means.travel.minutes(at, there)
        gone = min(1.0, max(0.0, _minutes(now - latest.under_way_at) / way)) if way else 1.0
        return RoverNow(rover, at, "", latest.case, there, gone, 0.0, until)
    if latest and latest.state is State.ON_SITE and latest.on_site_at:
        left = means.settings.need(latest.exception).minutes - _minutes(now - latest.on_site_at)
        return RoverNow(rover, at, latest.case, "", None, 0.0, max(means.settings.least_minutes, left), until)
    return RoverNow(rover, at, "", "", None, 0.0, max(0.0, starts_in), until)


def _moved_at(case: Case) -> datetime | None:
    """When the rover last said where it is or goes because of this case."""
    if case.on_site_at or not case.state.open:
        return case.on_site_at
    return case.under_way_at


def _shift(rover: Rover, election: Election, now: datetime) -> tuple[float, float]:
    """Minutes until the rover's shift begins (below 0: it has begun) and until it ends; no shift given is all day."""
    starts = _wall(rover.starts, election) if rover.starts else None
    ends = _wall(rover.ends, election) if rover.ends else None
    if starts and ends and ends <= starts:
        ends += timedelta(days=1)
    return _minutes(starts - now) if starts else 0.0, _minutes(ends - now) if ends else float("inf")


def _wall(clock: time, election: Election) -> datetime:
    return datetime.combine(election.date, clock, ZoneInfo(election.zone)).astimezone(UTC)


def _minutes(length: timedelta) -> float:
    return length.total_seconds() / 60
