"""The clock: what time alone makes true (late, overdue, silent) is written down, and whoever is to be told of it."""

from county import desk
from county.domain.going_round import Work
from county.following import Following
from county.telling import Watch, tell_due
from county.wiring import Office
from ingest.loops import Loop

EVERY = 1.0


def turn(office: Office, following: Following, watch: Watch | None = None) -> int:
    """Read what is new, raise what has become true by now, and owe notices of every case; how many were newly raised.

    Any number of such clocks may run: each fact has one key, and the ledger keeps it once. `watch` remembers what was
    looked at, from turn to turn.
    """
    following.catch_up()
    now = office.clock.now()
    raised = desk.raise_by_clock(office, following.picture, now)
    if raised:
        following.catch_up()
    tell_due(office, watch or Watch(), following.picture, now)
    return raised


def clock_loop(office: Office, following: Following) -> Loop:
    """A turn every second."""
    watch = Watch()
    return Loop(Work.CLOCK, EVERY, lambda: turn(office, following, watch))
