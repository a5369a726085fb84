"""How far the made-up day has come, on one line of a terminal; silent anywhere else."""

import sys
import time
from datetime import datetime
from zoneinfo import ZoneInfo

BETWEEN = 0.2


class Progress:
    """Shows the time of the made-up day and how much of it is sent, some times a second."""

    def __init__(self, total: int, zone: str) -> None:
        self._total = total
        self._zone = ZoneInfo(zone)
        self._terminal = sys.stderr.isatty()
        self._shown_at = 0.0

    def __call__(self, sent: int, at: datetime) -> None:
        if not self._terminal or time.monotonic() - self._shown_at < BETWEEN:
            return
        self._shown_at = time.monotonic()
        says = f"{at.astimezone(self._zone):%H:%M} on the made-up day: {sent:,} of {self._total:,} reports sent"
        print(f"\r\x1b[K{says}", end="", file=sys.stderr, flush=True)

    def __enter__(self) -> "Progress":
        return self

    def __exit__(self, *raised: object) -> None:
        if self._terminal:
            print("\r\x1b[K", end="", file=sys.stderr, flush=True)
