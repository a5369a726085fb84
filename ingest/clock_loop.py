"""The clock: what time alone makes true (late, overdue, silent) is written down, whoever watches."""

from county import desk
from county.following import Following
from county.wiring import Office
from ingest.loops import Loop

EVERY = 1.0


def turn(office: Office, following: Following) -> int:
    """Read what is new, and raise what has become true by now; how many were newly raised.

    Any number of such clocks may run: each fact has one key, and the ledger keeps it once.
    """
    following.catch_up()
    return desk.raise_by_clock(office, following.picture, office.clock.now())


def clock_loop(office: Office, following: Following) -> Loop:
    """A turn every second."""
    return Loop("clock", EVERY, lambda: turn(office, following))
