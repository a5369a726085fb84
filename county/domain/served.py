"""How fast voters are served at a place: by its check-ins, or else by the ballots that its scanners took."""

from collections.abc import Iterable, Mapping
from datetime import datetime
from enum import StrEnum
from functools import cached_property

from county.domain.counted import Counted, Said
from county.domain.expected import Expected
from county.domain.pace import Pace, together
from county.domain.plan import Limits
from county.domain.read_together import THE_PLACE
from county.domain.stretches import Stretches, stretches

_NOT_TWICE = "nobody has been counted a second time yet"


class Basis(StrEnum):
    """What the pace was taken from."""

    CHECK_INS = "check-ins"
    BALLOTS = "ballots"


class Served:
    """How fast one place serves its voters, from its counts: the same whatever the order in which they came.

    Of two readings of the same moment the higher is the later. Its scanners are looked at only where check-ins say
    nothing.
    """

    def __init__(self, counted: Counted, expected: Expected, limits: Limits) -> None:
        self._counted = counted
        self._scanners = expected.scanners
        self._limits = limits
        self.check_ins = self._stretches(_highest_last(counted.said("check_ins")), self._every)

    def at(self, moment: datetime) -> tuple[Pace, Basis] | str:
        """The pace of the last counts at a moment and what it is taken from, or why it cannot be said."""
        pace = self.check_ins.lately(moment, self._limits.count_old_after)
        if pace is not None:
            return pace, Basis.CHECK_INS
        counts = self._counted.day.counts
        if not counts or moment <= counts[0].happened_at:
            return _NOT_TWICE
        pace = self._lately(self.ballots.get(THE_PLACE), moment)
        if pace is not None:
            return pace, Basis.BALLOTS
        known = (self._lately(self.ballots.get(scanner), moment) for scanner in self._scanners)
        paces = [pace for pace in known if pace is not None]
        if paces and len(paces) == len(self._scanners):
            return together(paces), Basis.BALLOTS
        if not self._counted_twice_by(moment):
            return _NOT_TWICE
        return "not every scanner was counted lately" if paces else "the last counts do not fit or are too old"

    def is_stopped(self, moment: datetime) -> bool:
        """Whether nobody could vote at a moment, as reported by then, and nobody has been counted since it began."""
        stops = self._counted.stops.by(moment)
        return bool(stops) and any(s.ends is None and not self._any_counted(s.begins, moment) for s in stops)

    def _any_counted(self, since: datetime, until: datetime) -> bool:
        return any(of.any_counted(since, until) for of in (self.check_ins, *self.ballots.values()))

    @property
    def _every(self) -> int:
        """What all scanners of the place together cannot pass in an hour."""
        return self._limits.ballots_per_hour * max(1, len(self._scanners))

    @cached_property
    def ballots(self) -> Mapping[str, Stretches]:
        """The ballots by scanner, or as the place's own total, which at a place with one scanner is that scanner's."""
        most = self._limits.ballots_per_hour
        return {
            device: self._stretches(of, most if device else self._every) for device, of in self._ballots_read.items()
        }

    @cached_property
    def _ballots_read(self) -> Mapping[str, dict[datetime, int]]:
        one = self._scanners[0] if len(self._scanners) == 1 else THE_PLACE
        of: dict[str, list[Said]] = {}
        for entry, number in self._counted.said("public_counter"):
            of.setdefault(entry.device or one, []).append((entry, number))
        return {device: _highest_last(said) for device, said in of.items()}

    def _counted_twice_by(self, moment: datetime) -> bool:
        every = (_highest_last(self._counted.said("check_ins")), *self._ballots_read.values())
        return any(list(read)[1] <= moment for read in every if len(read) > 1)

    def _stretches(self, read: Mapping[datetime, int], most_an_hour: int) -> Stretches:
        return stretches(read.items(), most_an_hour, self._counted.stops)

    def _lately(self, of: Stretches | None, moment: datetime) -> Pace | None:
        return of.lately(moment, self._limits.count_old_after) if of else None


def _highest_last(said: Iterable[Said]) -> dict[datetime, int]:
    """Each moment's reading, which are in the order they happened; of two of one moment the higher."""
    read: dict[datetime, int] = {}
    for entry, number in said:
        at = entry.happened_at
        read[at] = max(number, read[at]) if at in read else number
    return read
