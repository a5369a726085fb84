"""How many requests one key may send: a bucket filling at a steady rate, so that a stuck sender hurts only itself."""

import math
import time
from collections.abc import Callable
from dataclasses import dataclass

from county.errors import Busy


@dataclass(slots=True)
class _Bucket:
    left: float
    filled_at: float


class Pace:
    """At most `a_minute` requests a minute from one sender, in bursts of as many; `timer` is in seconds."""

    def __init__(self, a_minute: int, timer: Callable[[], float] = time.monotonic) -> None:
        self._holds = a_minute
        self._timer = timer
        self._buckets: dict[str, _Bucket] = {}

    def take(self, sender: str) -> None:
        """Count one request. Raises Busy, saying when to come again, where the sender has none left."""
        now = self._timer()
        bucket = self._buckets.setdefault(sender, _Bucket(self._holds, now))
        bucket.left = min(self._holds, bucket.left + (now - bucket.filled_at) * self._holds / 60)
        bucket.filled_at = now
        if bucket.left < 1:
            raise Busy(math.ceil((1 - bucket.left) * 60 / self._holds))
        bucket.left -= 1
