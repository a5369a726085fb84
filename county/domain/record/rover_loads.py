"""What each rover had to do: cases, minutes under way and on site, first and last; what is missing is said."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from county.domain.cases import Action
from county.domain.lost_time import Interval, lost_time
from county.domain.moments import whole_minutes
from county.domain.picture import Picture
from county.domain.record.stints import Stint, stints


@dataclass(frozen=True, slots=True)
class RoverLoad:
    """One rover's day. Minutes are whole; intervals that overlap count once. Times are aware UTC, None for none.

    `reached` stints have a time on site, `turned_down` it said that it could not, `given_over` went to another rover.
    `no_way_time` were on site without a time under way, so that their way is not in `under_way_minutes`;
    `no_site_time` ended cleared without a time on site. `out` is whether it is under way or on site now.
    """

    rover: str
    name: str
    stints: tuple[Stint, ...]
    reached: int
    cleared: int
    turned_down: int
    given_over: int
    under_way_minutes: int
    on_site_minutes: int
    no_way_time: int
    no_site_time: int
    first: datetime | None
    last: datetime | None
    out: bool


def rover_loads(picture: Picture, now: datetime) -> tuple[RoverLoad, ...]:
    """Every rover of the roster, and whoever else had a case, the most minutes first."""
    names = {rover.rover: rover.name for rover in picture.roster.rovers}
    had: dict[str, list[Stint]] = {rover: [] for rover in names}
    for case in picture.cases():
        for stint in stints(case):
            had.setdefault(stint.rover, []).append(stint)
    loads = (_load(rover, names.get(rover, rover), of, now) for rover, of in had.items())
    return tuple(sorted(loads, key=lambda each: (-(each.under_way_minutes + each.on_site_minutes), each.rover)))


def _load(rover: str, name: str, had: list[Stint], now: datetime) -> RoverLoad:
    had = sorted(had, key=lambda each: (each.given_at, each.case))
    moved = sorted(at for each in had for at in (each.under_way_at, each.on_site_at) if at)
    way = [(each.under_way_at, each.on_site_at or _left(each, moved, now)) for each in had if each.under_way_at]
    site = [(each.on_site_at, _left(each, moved, now)) for each in had if each.on_site_at]
    times = [at for each in had for at in (each.given_at, each.under_way_at, each.on_site_at, each.ended_at) if at]
    return RoverLoad(
        rover=rover,
        name=name,
        stints=tuple(had),
        reached=len(site),
        cleared=sum(each.ended == Action.CLEAR for each in had),
        turned_down=sum(each.ended == Action.CANNOT for each in had),
        given_over=sum(each.ended == Action.ASSIGN for each in had),
        under_way_minutes=_minutes(way),
        on_site_minutes=_minutes(site),
        no_way_time=sum(each.under_way_at is None for each in had if each.on_site_at),
        no_site_time=sum(each.on_site_at is None for each in had if each.ended == Action.CLEAR),
        first=min(times, default=None),
        last=max(times, default=None),
        out=any((each.under_way_at or each.on_site_at) and each.ended_at is None for each in had),
    )


def _left(stint: Stint, moved: Iterable[datetime], now: datetime) -> datetime:
    """When the rover left this case: when it ended, or when it went on to another, whichever came first."""
    here = stint.on_site_at or stint.under_way_at or stint.given_at
    return min([stint.ended_at or now, *(at for at in moved if at > here)])


def _minutes(intervals: list[Interval]) -> int:
    if not intervals:
        return 0
    return whole_minutes(
        lost_time(intervals, min(begins for begins, _ in intervals), max(ends for _, ends in intervals))
    )
