"""Work that is done again and again beside the endpoint, until told to stop."""

import logging
import threading
from collections.abc import Callable

log = logging.getLogger(__name__)


class Loop:
    """Does `work` every so many seconds in a thread of its own; what fails is logged, and the next turn comes."""

    def __init__(self, name: str, seconds: float, work: Callable[[], object]) -> None:
        self._name, self._seconds, self._work = name, seconds, work
        self._stopping = threading.Event()
        self._thread = threading.Thread(target=self._run, name=name, daemon=True)

    def start(self) -> None:
        """Begin; the first turn comes at once."""
        self._thread.start()

    def stop(self) -> None:
        """End after the turn that is under way."""
        self._stopping.set()
        self._thread.join()

    def _run(self) -> None:
        while not self._stopping.is_set():
            try:
                self._work()
            except Exception:  # the loop's outermost level: the next turn may go well
                log.exception("%s: a turn failed; going on", self._name)
            self._stopping.wait(self._seconds)
