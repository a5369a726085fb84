"""The stops of a whole place, as they had been told by any moment of the day."""

from bisect import bisect_right
from collections.abc import Sequence
from datetime import datetime

from county.domain.effects import Effect
from county.domain.entries import Entry
from county.domain.interruptions import Interruption, interruptions

_STOPPING = (Effect.DANGER, Effect.STOPPED)


class StopsTold:
    """Reports of interruptions, in the order they happened, and the stops that each further one makes of them."""

    def __init__(self, interrupted: Sequence[Entry]) -> None:
        self._interrupted = interrupted
        self._moments = [entry.happened_at for entry in interrupted]
        self._by_number: dict[int, Sequence[Interruption]] = {0: ()}

    def by(self, moment: datetime) -> Sequence[Interruption]:
        """The stops that had been reported by then, as far as they were known to last."""
        number = bisect_right(self._moments, moment) if self._moments else 0
        if number not in self._by_number:
            told = interruptions(self._interrupted[:number])
            self._by_number[number] = [each for each in told if each.effect in _STOPPING and not each.device]
        return self._by_number[number]
