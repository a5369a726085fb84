"""What the counts of a day said, gathered once, so that whoever asks looks only at those that bear on it."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from county.domain.entries import Entry
from county.domain.place_day import PlaceDay
from county.domain.stops_told import StopsTold

Said = tuple[Entry, int]
"""A report and a number that it told."""
Read = tuple[datetime, int, str, Entry]
"""A counter as it was read: when (aware UTC), what it showed, and the report, its key first."""


@dataclass(frozen=True, slots=True)
class Counted:
    """The numbers of one day's counts by the name of their field, each in the order the reports happened.

    `counters` are the public counters by device, those of steps too, each in the order they were read: of two read at
    the same moment the lower is the earlier. One that names no device is the place's own total.
    """

    day: PlaceDay
    numbers: Mapping[str, list[Said]]
    counters: Mapping[str, list[Read]]
    stops: StopsTold

    def said(self, name: str) -> list[Said]:
        """The numbers told in counts under this name; none where nobody did."""
        return self.numbers.get(name, [])


def counted(day: PlaceDay) -> Counted:
    """The counts of a day as rules ask for them."""
    numbers = _numbers(day.counts)
    of_steps = [(e, n) for e in day.steps if (n := e.number("public_counter")) is not None and e.device]
    counters = _counters([*of_steps, *numbers.get("public_counter", ())])
    return Counted(day, numbers, counters, StopsTold(day.interrupted))


def _numbers(counts: Iterable[Entry]) -> dict[str, list[Said]]:
    numbers: defaultdict[str, list[Said]] = defaultdict(list)
    for entry in counts:
        for name, value in entry.fields.items():
            # true and false are whole numbers to Python; this leaves them out
            if type(value) is int:
                numbers[name].append((entry, value))
    return numbers


def _counters(told: Iterable[Said]) -> dict[str, list[Read]]:
    counters: defaultdict[str, list[Read]] = defaultdict(list)
    for entry, number in told:
        counters[entry.device].append((entry.happened_at, number, entry.key, entry))
    for readings in counters.values():
        readings.sort()
    return counters
