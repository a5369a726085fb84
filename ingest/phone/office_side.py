"""The office as a page for phones reaches it: nearly up to date for who looks, quite for who told something."""

import asyncio
import time
from dataclasses import dataclass

from county.domain.moments import write_moment
from county.domain.picture import Picture
from county.following import Following
from county.wiring import Office

FRESH_FOR = 0.3
"""So many seconds old may be what a phone that only looks is shown; a phone that told something sees its own report."""


@dataclass(slots=True)
class OfficeSide:
    """What the county looks like from the office, and its clock."""

    office: Office
    following: Following
    _looked_at: float = 0.0

    @property
    def picture(self) -> Picture:
        return self.following.picture

    async def look(self) -> None:
        """Be nearly up to date."""
        if time.monotonic() - self._looked_at >= FRESH_FOR:
            await self.catch_up()

    async def catch_up(self) -> None:
        """Be up to date."""
        await asyncio.to_thread(self.following.catch_up)
        self._looked_at = time.monotonic()

    def clock(self) -> dict[str, object]:
        """The office's time for the script, and how fast it runs: 0 and `set` only where it is not the real one."""
        clock = self.office.clock
        return {"now": write_moment(clock.now()), "speed": clock.speed, "set": not clock.real}

    def told(self) -> dict[str, str]:
        """The office's time beside an answer to the script."""
        return {"office-now": write_moment(self.office.clock.now())}
