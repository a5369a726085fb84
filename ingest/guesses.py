"""Guessed keys are slowed: after a few wrong ones from an address it has to wait, longer each time."""

import math
import time
from collections.abc import Callable
from dataclasses import dataclass

from county.errors import Busy

FREE = 5
LONGEST = 30.0
FORGOTTEN_AFTER = 600.0
MOST_ADDRESSES = 10_000


@dataclass(slots=True)
class _Wrong:
    times: int
    again_at: float
    last_at: float


class Guesses:
    """Wrong keys by address; `timer` is in seconds. The wait stays short, because a whole county may share one address.

    Whoever has shown a right key is not asked to wait: only keys not seen to be right are held against an address.
    """

    def __init__(self, timer: Callable[[], float] = time.monotonic) -> None:
        self._timer = timer
        self._wrong: dict[str, _Wrong] = {}

    def may_try(self, address: str) -> None:
        """Raises Busy, saying when to come again, while this address has to wait."""
        wrong = self._wrong.get(address)
        left = wrong.again_at - self._timer() if wrong else 0.0
        if left > 0:
            raise Busy(math.ceil(left))

    def was_wrong(self, address: str) -> None:
        """Count one wrong key."""
        now = self._timer()
        if len(self._wrong) >= MOST_ADDRESSES:
            self._wrong = {each: w for each, w in self._wrong.items() if now - w.last_at < LONGEST}
        wrong = self._wrong.setdefault(address, _Wrong(0, 0.0, now))
        if now - wrong.last_at > FORGOTTEN_AFTER:
            wrong.times = 0
        wrong.times += 1
        wrong.last_at = now
        if wrong.times >= FREE:
            wrong.again_at = now + min(2.0 ** (wrong.times - FREE), LONGEST)
