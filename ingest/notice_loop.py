"""The notices: what is owed is sent, to each person in a thread of their own, so that one channel holds up no other."""

import logging
import threading
import time
from uuid import uuid4

from county import delivery
from county.domain.going_round import Work
from county.following import Following
from county.wiring import Office
from ingest.loops import Loop

EVERY = 0.5
MOST_AT_ONCE = 16

log = logging.getLogger(__name__)


class Sender:
    """Sends to whoever something waits for; any number of processes may, since a message is leased to one at a time."""

    def __init__(self, office: Office, most_at_once: int = MOST_AT_ONCE, following: Following | None = None) -> None:
        self._opened, self._most, self._following = office, most_at_once, following
        self._name = uuid4().hex
        self._busy: dict[str, threading.Thread] = {}
        self._stopping = threading.Event()
        self._checked = False

    @property
    def _office(self) -> Office:
        """The office with the plan in force, where somebody follows it."""
        return self._following.office if self._following else self._opened

    def turn(self) -> int:
        """Gather what is owed, and begin with everybody who waits and is not being sent to; with how many it began."""
        self._check()
        delivery.gather(self._office)
        self._busy = {person: thread for person, thread in self._busy.items() if thread.is_alive()}
        waiting = [person for person in delivery.people_waiting(self._office) if person not in self._busy]
        begun = waiting[: max(0, self._most - len(self._busy))]
        for person in begun:
            thread = threading.Thread(target=self._send_all, args=(person,), name=f"to {person}", daemon=True)
            self._busy[person] = thread
            thread.start()
        return len(begun)

    def stop(self, patience: float) -> None:
        """Begin nothing more, and wait so many seconds for what is under way; what hangs is sent again another time."""
        self._stopping.set()
        until = time.monotonic() + patience
        for thread in self._busy.values():
            thread.join(max(0.0, until - time.monotonic()))

    def _check(self) -> None:
        """Say at the first turn who cannot be reached as things stand."""
        if not self._checked:
            self._checked = True
            for problem in delivery.unreachable(self._office.plan, self._office.settings.sending):
                log.warning("no notice can reach %s", problem)

    def _send_all(self, person: str) -> None:
        try:
            while not self._stopping.is_set() and delivery.send_next(self._office, person, self._name):
                pass
        except Exception:  # the thread's outermost level: the lease runs out, and another turn begins again
            log.exception("notices to %s: a turn failed; going on", person)


def notice_loop(sender: Sender) -> Loop:
    """A look every half second at what is to be sent."""
    return Loop(Work.NOTICES, EVERY, sender.turn)
