"""How fast voters are served at a place: by its check-ins, or else by the ballots that its scanners took."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from county.domain.counted import Counted
from county.domain.entries import Kind
from county.domain.expected import Expected
from county.domain.pace import Pace, together
from county.domain.plan import Limits
from county.domain.stretches import Stretches, stretches

THE_PLACE = ""
"""The key of a public counter that is told for the whole place and of no device."""


class Basis(StrEnum):
    """What the pace was taken from."""

    CHECK_INS = "check-ins"
    BALLOTS = "ballots"


@dataclass(frozen=True, slots=True)
class Served:
    """One place's counts as stretches: its check-ins, and its ballots by scanner (or as the place's own total).

    `scanners` are all that a place has. `twice` is from when on something had been counted a second time.
    """

    check_ins: Stretches
    ballots: Mapping[str, Stretches]
    scanners: tuple[str, ...]
    twice: datetime | None

    def at(self, moment: datetime, limits: Limits) -> tuple[Pace, Basis] | str:
        """The pace of the last counts at a moment and what it is taken from, or why it cannot be said."""
        pace = self.check_ins.lately(moment, limits.count_old_after)
        if pace is not None:
            return pace, Basis.CHECK_INS
        total = self.ballots.get(THE_PLACE)
        pace = total.lately(moment, limits.count_old_after) if total else None
        if pace is not None:
            return pace, Basis.BALLOTS
        known = [of for device in self.scanners if (of := self.ballots.get(device)) is not None]
        paces = [pace for of in known if (pace := of.lately(moment, limits.count_old_after)) is not None]
        if paces and len(paces) == len(self.scanners):
            return together(paces), Basis.BALLOTS
        if self.twice is None or self.twice > moment:
            return "nobody has been counted a second time yet"
        return "not every scanner was counted lately" if paces else "the last counts do not fit or are too old"


def served(counted: Counted, expected: Expected, limits: Limits) -> Served:
    """What the counts of a day tell of it; the same whatever the order in which they came.

    Of two readings of the same moment the higher is the later.
    """
    scanners, stops = expected.scanners, counted.stops
    check_ins: dict[datetime, int] = {}
    for entry, number in counted.said("check_ins"):
        at = entry.happened_at
        check_ins[at] = max(number, check_ins.get(at, number))
    ballots = dict(_ballots(counted, scanners))
    most, every = limits.ballots_per_hour, limits.ballots_per_hour * max(1, len(scanners))
    return Served(
        stretches(check_ins.items(), every, stops),
        {device: stretches(of.items(), most if device else every, stops) for device, of in ballots.items()},
        scanners,
        min((list(of)[1] for of in (check_ins, *ballots.values()) if len(of) > 1), default=None),
    )


def _ballots(counted: Counted, scanners: tuple[str, ...]) -> Iterator[tuple[str, dict[datetime, int]]]:
    """Each scanner's public counter by moment, as counts told it; a place's total is that of its only scanner."""
    counters = dict(counted.counters)
    if len(scanners) == 1 and THE_PLACE in counters:
        counters[scanners[0]] = sorted([*counters.pop(THE_PLACE), *counters.get(scanners[0], ())])
    for device, readings in counters.items():
        of = {at: number for at, number, _, entry in readings if entry.kind is Kind.COUNT}
        if of:
            yield device, of
