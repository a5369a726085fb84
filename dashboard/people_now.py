"""Who is signed in, as this process sees it: looked up every few seconds, so that whoever is revoked is out soon."""

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field

from county.domain.people import SignedIn
from county.signing_in import session_of, session_used
from county.wiring import Office

KNOWN_SECONDS = 1.5
"""How long a session is taken for good without looking; a revoked person's page stops within this and a look."""
USED_SECONDS = 30.0
MOST_REMEMBERED = 5_000


@dataclass(slots=True)
class _Known:
    signed_in: SignedIn | None
    looked_at: float
    used_at: float = float("-inf")


@dataclass(slots=True)
class PeopleNow:
    """Sessions by their mark. Any thread may ask; `timer` is in seconds."""

    office: Office
    timer: Callable[[], float] = time.monotonic
    _known: dict[str, _Known] = field(default_factory=dict)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def of(self, session: str) -> SignedIn | None:
        """Who is behind a session's mark now; None where it has ended, or there is no such session."""
        now = self.timer()
        with self._lock:
            known = self._known.get(session)
        if known and now - known.looked_at < KNOWN_SECONDS:
            return known.signed_in
        found = session_of(self.office, session) if session else None
        with self._lock:
            if len(self._known) >= MOST_REMEMBERED:
                self._known.clear()
            self._known[session] = _Known(found, now, known.used_at if known else float("-inf"))
        return found

    def at_hand(self, session: str) -> bool:
        """Whether `of` can answer at once, without asking the database."""
        known = self._known.get(session)
        return known is not None and self.timer() - known.looked_at < KNOWN_SECONDS

    def used(self, session: str) -> None:
        """Note that the person behind a session did something; written down at most twice a minute."""
        now = self.timer()
        with self._lock:
            known = self._known.get(session)
            if known is None or known.signed_in is None or now - known.used_at < USED_SECONDS:
                return
            known.used_at = now
        session_used(self.office, session)

    def forget(self, session: str) -> None:
        """Look again at the next question: the session was ended or changed by this process."""
        with self._lock:
            self._known.pop(session, None)
