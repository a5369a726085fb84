"""Work beside the drawing: done again and again in a thread of its own, resting for longer than it took."""

import threading
import time
from collections.abc import Callable

REST = 4.0
"""How many times longer than the work it rests, so that drawing has its turn."""


def again_and_again(
    work: Callable[[], None], stopping: threading.Event, every: float, failed: Callable[[], None]
) -> None:
    """Do the work until stopped, at most once in so many seconds; after trouble tell it to `failed`, and try again.

    `failed` is called while the exception is at hand, so that it can be logged.
    """
    took = 0.0
    while not stopping.wait(max(every, REST * took)):
        began = time.monotonic()
        try:
            work()
        except Exception:  # noqa: BLE001  a thread's outermost level: whatever it was, the next time may do
            failed()
        took = time.monotonic() - began
