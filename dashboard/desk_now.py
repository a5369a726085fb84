"""Who is on the desk and what was handed over, as this process has read it; a few facts a day, read as they come."""

import threading
import time
from dataclasses import dataclass, field

from county.domain.desk_watch import DeskWatch, HandedOver, OnTheDesk
from county.handing_over import facts
from county.wiring import Office

KNOWN_SECONDS = 2.0


@dataclass(slots=True)
class DeskNow:
    """Reads what is new when it is asked, at most every two seconds. Any thread may ask."""

    office: Office
    _watch: DeskWatch = field(default_factory=DeskWatch)
    _seq: int = 0
    _read_at: float = float("-inf")
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def look(self, *, at_once: bool = False) -> tuple[tuple[OnTheDesk, ...], tuple[HandedOver, ...]]:
        """Who is on the desk, and what waits to be taken over."""
        with self._lock:
            now = time.monotonic()
            if at_once or now - self._read_at >= KNOWN_SECONDS:
                new, last = facts(self.office, self._seq)
                self._watch.add(new)
                self._seq, self._read_at = last, now
            return self._watch.on_the_desk, self._watch.waiting
