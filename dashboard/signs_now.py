"""When the loops beside the endpoint last came round, as this process has read it; read every few seconds."""

import time
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from county import signs_of_life
from county.domain.going_round import Work
from county.wiring import Office

READ_SECONDS = 5.0


@dataclass(slots=True)
class SignsNow:
    """One thread reads, any may ask. An archive has no endpoint, and nothing stands still in it."""

    office: Office
    _turned: Mapping[str, datetime] | None = None
    _read_at: float = field(default=float("-inf"))

    def read(self) -> None:
        """Read them again where the last time is a few seconds ago."""
        now = time.monotonic()
        if now - self._read_at >= READ_SECONDS and not self.office.archive:
            self._turned, self._read_at = signs_of_life.turns(self.office), now

    @property
    def still(self) -> dict[Work, timedelta | None]:
        """What stands still now, and for how long; nothing before the first reading."""
        return {} if self._turned is None else signs_of_life.still(self._turned)
