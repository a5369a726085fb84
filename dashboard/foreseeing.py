"""When each place will likely open, reckoned beside the drawing: pages show the newest there is and wait for none."""

import logging
import threading
from collections.abc import Callable
from datetime import datetime

from county.domain.picture import Picture
from county.following import Following
from county.forecasting import NONE, Forecasts, forecasts
from county.wiring import Office
from dashboard.beside import again_and_again

EVERY_SECONDS = 0.5
"""How often it looks at most."""
_log = logging.getLogger("pollrise.board")


class Foreseeing:
    """Keeps the newest forecasts of one process; none before the first, and while none can be reckoned.

    `latest` stays the same object while no forecast has changed.
    """

    def __init__(self, office: Office, following: Following, now: Callable[[], datetime]) -> None:
        self.latest: Forecasts = NONE
        self._office = office
        self._following = following
        self._now = now
        self._stopping = threading.Event()

    def look(self) -> None:
        """Reckon anew where a place or the minute has changed."""
        latest = forecasts(self._office, self._following.picture, self._now())
        if latest != self.latest:
            self.latest = latest

    def as_known(self, picture: Picture, at: datetime) -> Forecasts:
        """What was to be said at a past moment, reckoned from the picture of what was known then."""
        return forecasts(self._office, picture, at)

    def follow(self) -> None:
        """Look until stopped; trouble is logged and tried again, and nothing is forecast meanwhile."""
        again_and_again(self.look, self._stopping, EVERY_SECONDS, self._failed)

    def _failed(self) -> None:
        self.latest = NONE
        _log.exception("no opening can be forecast")

    def stop(self) -> None:
        self._stopping.set()
