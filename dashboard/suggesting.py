"""Whom to send where, worked out beside the drawing: pages show the newest suggestion and never wait for one."""

import logging
import threading
from collections.abc import Callable
from datetime import datetime

from county.dispatching import suggestion
from county.domain.dispatch import Dispatch
from county.following import Following
from county.wiring import Office
from dashboard.beside import again_and_again

EVERY_SECONDS = 1.0
"""How often it looks at most."""
_log = logging.getLogger("pollrise.board")


class Suggesting:
    """Keeps the newest suggestion of one process; None before the first, and while none can be worked out."""

    def __init__(self, office: Office, following: Following, now: Callable[[], datetime]) -> None:
        self.latest: Dispatch | None = None
        self._office = office
        self._following = following
        self._now = now
        self._stopping = threading.Event()

    def look(self) -> None:
        """Work it out anew where the cases or the minute have changed."""
        self.latest = suggestion(self._office, self._following.picture, self._now())

    def follow(self) -> None:
        """Look until stopped; trouble is logged and tried again, and nobody is suggested meanwhile."""
        again_and_again(self.look, self._stopping, EVERY_SECONDS, self._failed)

    def _failed(self) -> None:
        self.latest = None
        _log.exception("no rover can be suggested")

    def stop(self) -> None:
        self._stopping.set()
