"""The county as every page is drawn from it: one moment, the same for everybody who looks."""

from collections import Counter
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property
from zoneinfo import ZoneInfo

from county.clock import Clock
from county.domain.archive_mark import ArchiveMark
from county.domain.both_orders import View
from county.domain.cases import Case
from county.domain.dispatch import Dispatch
from county.domain.opening_forecast import OpeningForecast
from county.domain.picture import Picture, PlaceNow
from county.domain.plan import Plan
from county.domain.roster import Roster
from county.domain.standing import Standing
from county.domain.wall import Wall
from dashboard.earlier import Earlier


@dataclass(frozen=True)
class Board:
    """The county at `as_of` (UTC). `every_case` is worst first, the open ones before those that ended.

    `revision` rises with every newer board of one process. `last_received_at` is when the newest report came in.
    `dispatch` is whom to send where, `forecasts` when places will likely open, both as worked out last; they may be
    some seconds older than the rest.
    `made` holds what was made of this board once for everybody (see feed.once). `then` is None where this is now, else
    which of the two views of a past moment it is; nothing can be done there. `moment_word` is what `as_of` is called.
    `archive` is set where this is the archive of an election.
    """

    revision: int
    as_of: datetime
    plan: Plan
    roster: Roster
    places: tuple[PlaceNow, ...]
    every_case: tuple[Case, ...]
    last_received_at: datetime | None = None
    clock: Clock = field(default_factory=Clock)
    earlier: Earlier | None = None
    dispatch: Dispatch | None = None
    forecasts: Mapping[str, OpeningForecast] = field(default_factory=dict, repr=False)
    then: View | None = None
    moment_word: str = "now"
    archive: ArchiveMark | None = None
    made: dict[object, object] = field(default_factory=dict, compare=False, repr=False)

    @cached_property
    def zone(self) -> ZoneInfo:
        """The county's zone, in which every time is written."""
        return ZoneInfo(self.plan.election.zone)

    @cached_property
    def wall(self) -> Wall:
        """Times as they are written in that zone; those of another day than election day say so."""
        return Wall(self.zone, self.plan.election.date)

    @cached_property
    def cases(self) -> tuple[Case, ...]:
        """The open cases, worst first."""
        return tuple(case for case in self.every_case if case.state.open)

    @cached_property
    def totals(self) -> Mapping[Standing, int]:
        """How many places stand how; every standing is named."""
        counted = Counter(place.standing for place in self.places)
        return {each: counted[each] for each in Standing}

    @cached_property
    def place_by_id(self) -> Mapping[str, PlaceNow]:
        return {now.place.place: now for now in self.places}

    @cached_property
    def case_by_id(self) -> Mapping[str, Case]:
        return {case.case: case for case in self.every_case}


def newer(before: Board | None, picture: Picture, touched: Collection[str], now: datetime) -> Board:
    """The next board, at `now`; within a minute only the places that were touched are looked at again."""
    if before is None or before.roster is not picture.roster or minute_of(now) != minute_of(before.as_of):
        places = picture.everywhere(now)
    else:
        places = tuple(
            picture.at(each.place.place, now) if each.place.place in touched else each for each in before.places
        )
    return Board(
        revision=before.revision + 1 if before else 1,
        as_of=now,
        plan=picture.plan,
        roster=picture.roster,
        places=places,
        every_case=picture.cases(),
    )


def minute_of(moment: datetime) -> int:
    """Which minute a moment lies in: standings are told in whole minutes."""
    return int(moment.timestamp() // 60)
