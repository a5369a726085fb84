"""The endpoint's signs of life: when the loops beside it last came round, written down for who cannot ask it."""

from collections.abc import Mapping
from datetime import datetime, timedelta

from county.clock import Clock
from county.domain.going_round import Work, standing_still
from county.store import loop_turns
from county.store.engine import reading, writing
from county.wiring import Office

# a set clock may stand still or run sixty times as fast; whether a program lives is a matter of real time
_REAL = Clock()


def note_turns(office: Office, ago: Mapping[str, timedelta]) -> None:
    """Write down how long ago each loop last came round, all in one transaction."""
    now = _REAL.now()
    with writing(office.engine) as connection:
        loop_turns.keep(connection, {loop: now - since for loop, since in ago.items()})


def turns(office: Office) -> dict[str, datetime]:
    """When each loop last came round, in whatever process (aware UTC, by the real clock)."""
    with reading(office.engine) as connection:
        return loop_turns.read(connection)


def still(turned: Mapping[str, datetime]) -> dict[Work, timedelta | None]:
    """What stands still at this moment, of these turns, and for how long; None where it was never done."""
    return standing_still(turned, _REAL.now())
