"""Plays a made-up day: each report is sent when it falls due, or all of them as fast as it goes."""

import time
from collections.abc import Callable, Sequence
from datetime import datetime

from county.clock import Clock
from county.rehearsal.sender import MOST_AT_ONCE, Sender
from county.rehearsal.sent import Sent

SHORTEST, LONGEST = 0.005, 1.0


def play(day: Sequence[Sent], sender: Sender, clock: Clock | None, watch: Callable[[int, datetime], None]) -> None:
    """Send the day in its order, by the clock, or without waiting where that is None or stands still.

    What falls due while something is being sent goes with the next batch. `watch` is called at least every second with
    how many are sent and the moment of the day; what it raises ends the play. Raises NotSent.
    """
    sent = 0
    while sent < len(day):
        watch(sent, day[sent].at if clock is None else clock.now())
        upto = _due(day, sent, clock)
        if upto == sent and clock is not None:
            wait = (day[sent].at - clock.now()).total_seconds() / clock.speed
            time.sleep(min(LONGEST, max(SHORTEST, wait)))
            continue
        sender.send(day[sent:upto])
        sent = upto
    if day:
        watch(sent, day[-1].at)


def _due(day: Sequence[Sent], sent: int, clock: Clock | None) -> int:
    """How far the day is due."""
    if clock is None or not clock.speed:
        return min(len(day), sent + MOST_AT_ONCE)
    now = clock.now()
    return next((number for number in range(sent, len(day)) if day[number].at > now), len(day))
