"""Guessing is slowed: after a few wrong tries somebody has to wait, longer each time, and never for good."""

import math
import time
from collections.abc import Callable
from dataclasses import dataclass

from county.errors import Busy

FREE = 5
LONGEST = 30.0
FORGOTTEN_AFTER = 600.0
MOST_REMEMBERED = 10_000


@dataclass(slots=True)
class _Wrong:
    times: int
    again_at: float
    last_at: float


class Guesses:
    """Wrong tries by whoever made them (an address, a name); the first `free` cost nothing. `timer` is in seconds.

    The wait stays short, because a whole county may share one address.
    """

    def __init__(self, free: int = FREE, timer: Callable[[], float] = time.monotonic) -> None:
        self._free = free
        self._timer = timer
        self._wrong: dict[str, _Wrong] = {}

    def may_try(self, who: str) -> None:
        """Raises Busy, saying when to come again, while this one has to wait."""
        wrong = self._wrong.get(who)
        left = wrong.again_at - self._timer() if wrong else 0.0
        if left > 0:
            raise Busy(math.ceil(left))

    def was_wrong(self, who: str) -> None:
        """Count one wrong try."""
        now = self._timer()
        if len(self._wrong) >= MOST_REMEMBERED:
            self._wrong = {each: w for each, w in self._wrong.items() if now - w.last_at < LONGEST}
        wrong = self._wrong.setdefault(who, _Wrong(0, 0.0, now))
        if now - wrong.last_at > FORGOTTEN_AFTER:
            wrong.times = 0
        wrong.times += 1
        wrong.last_at = now
        if wrong.times >= self._free:
            wrong.again_at = now + min(2.0 ** min(wrong.times - self._free, 30), LONGEST)

    def was_right(self, who: str) -> None:
        """Forget what was held against this one."""
        self._wrong.pop(who, None)
