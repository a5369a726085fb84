"""Work that is done again and again beside the endpoint, until told to stop; each knows when it last came round."""

import logging
import threading
import time
from collections.abc import Callable, Sequence
from datetime import timedelta

from county.domain.going_round import Work, patience
from county.signs_of_life import note_turns
from county.wiring import Office

NOTED_EVERY = 10.0
ENDS_WITHIN = 20.0

log = logging.getLogger(__name__)


class Loop:
    """Does `work` every so many seconds in a thread of its own; what fails is logged, and the next turn comes.

    `timer` is in seconds.
    """

    def __init__(
        self, name: str, seconds: float, work: Callable[[], object], timer: Callable[[], float] = time.monotonic
    ) -> None:
        self.name = name
        self._seconds, self._work, self._timer = seconds, work, timer
        self._turned_at = timer()
        self._stopping = threading.Event()
        self._thread = threading.Thread(target=self._run, name=name, daemon=True)

    @property
    def since_turn(self) -> timedelta:
        """How long ago the last turn ended well; before the first, how long ago the loop was made."""
        return timedelta(seconds=self._timer() - self._turned_at)

    @property
    def stands_still(self) -> bool:
        """Whether it has hung, ended, or fails at every turn: it has not come round when it should."""
        return self.since_turn > patience(self.name, timedelta(seconds=self._seconds))

    def start(self) -> None:
        """Begin; the first turn comes at once."""
        self._thread.start()

    def stop(self) -> None:
        """End after the turn that is under way; one that hangs is left behind, so that a restart does not hang too."""
        self._stopping.set()
        self._thread.join(ENDS_WITHIN)
        if self._thread.is_alive():
            log.warning("%s: its turn does not end; going without it", self.name)

    def _run(self) -> None:
        while not self._stopping.is_set():
            try:
                self._work()
                self._turned_at = self._timer()
            except Exception:  # the loop's outermost level: the next turn may go well
                log.exception("%s: a turn failed; going on", self.name)
            self._stopping.wait(self._seconds)


def signs_of_life(office: Office, loops: Sequence[Loop]) -> Loop:
    """Writes down every ten seconds, in one transaction, when each of these loops last came round."""

    def note() -> None:
        note_turns(office, {Work.ENDPOINT: timedelta(), **{loop.name: loop.since_turn for loop in loops}})

    return Loop("signs of life", NOTED_EVERY, note)
