"""The work that goes round and round beside the endpoint, and when it counts as standing still.

Standing still is not being slow: a turn may take long, and only a loop that has ended no turn well for as long as its
patience has hung, ended, or fails each time.
"""

from collections.abc import Mapping
from datetime import datetime, timedelta
from enum import StrEnum
from types import MappingProxyType

PATIENCE = timedelta(seconds=60)
_ONE_LARGE_FILE = timedelta(minutes=10)
_TURNS = 10


class Work(StrEnum):
    """What goes round, by the name it has in the endpoint's log; and the endpoint itself, which says that it lives."""

    ENDPOINT = "endpoint"
    CLOCK = "clock"
    NOTICES = "notices"
    DROP = "drop folder"
    LOGS = "drop folder for logs"


_PATIENCE: Mapping[Work, timedelta] = MappingProxyType({Work.DROP: _ONE_LARGE_FILE, Work.LOGS: _ONE_LARGE_FILE})
"""Where one turn may rightly take longer: the largest file that is taken is read in one turn."""


def patience(work: str, every: timedelta = timedelta()) -> timedelta:
    """How long a loop with a turn `every` so often may be without one: ten turns, and never less than a minute."""
    usual = _PATIENCE.get(Work(work), PATIENCE) if work in tuple(Work) else PATIENCE
    return max(usual, every * _TURNS)


def standing_still(turned: Mapping[str, datetime], now: datetime) -> dict[Work, timedelta | None]:
    """How long each work that stands still has done so; None where it was never done here. Times are aware UTC."""
    gone = {work: now - turned[work] if work in turned else None for work in Work}
    return {work: since for work, since in gone.items() if since is None or since > patience(work)}
