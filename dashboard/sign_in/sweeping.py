"""Sessions that nobody asks about end too: once a minute the board looks which are over."""

import asyncio
import logging
from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager, suppress

from county.signing_in import end_lapsed
from county.wiring import Office

EVERY_SECONDS = 60.0
_log = logging.getLogger("pollrise.board")


@asynccontextmanager
async def sweeping(office: Office) -> AsyncGenerator[None, None]:
    """End what is over for as long as the board is served."""
    task = asyncio.create_task(_sweep(office))
    try:
        yield
    finally:
        task.cancel()
        with suppress(asyncio.CancelledError):
            await task


async def _sweep(office: Office) -> None:
    while True:
        try:
            await asyncio.to_thread(end_lapsed, office)
        except Exception:  # noqa: BLE001  the loop's outermost level: the next round may do
            _log.exception("sessions could not be looked through")
        await asyncio.sleep(EVERY_SECONDS)
