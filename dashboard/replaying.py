"""The day replayed for everybody who reviews it: each moment with the roster and plan of then, folded ahead of need."""

import logging
import threading
import time
from collections import OrderedDict, deque
from collections.abc import Callable, Mapping
from datetime import datetime, timedelta

from county.domain.both_orders import View
from county.domain.picture import Picture, happened, known
from county.domain.place_replay import NOWHERE
from county.domain.place_state import PlaceState
from county.domain.plan import Plan
from county.domain.replay import Beside, Replay
from county.domain.roster import Roster
from county.following import Following
from county.wiring import Office
from dashboard.in_force import InForce

AT_ONCE_SECONDS, NOBODY_LOOKS = 0.004, 600.0
WHOEVER_MOVES_FIRST = 0.25
"""Seconds after a moment was asked for in which nothing is folded ahead: its picture is being drawn."""
AGAIN_AFTER = timedelta(minutes=15)
MOST_PICTURES, MOST_REPLAYS = 4, 3
_BEFORE, _AFTER = timedelta(minutes=30), timedelta(hours=4)
_log = logging.getLogger("pollrise.board")


class Replaying:
    """Replays of one process's ledger. Any thread may ask; what was folded for one is there for all."""

    def __init__(self, office: Office, following: Following) -> None:
        self._following = following
        self._lock = threading.RLock()
        self._in_force = InForce(office, following)
        self._replays: OrderedDict[tuple[int, int], tuple[Replay, int]] = OrderedDict()
        self._pictures: OrderedDict[tuple[datetime, View, int], Picture] = OrderedDict()
        self._asked_at = float("-inf")
        self._ahead: threading.Thread | None = None
        self._folded_until: datetime | None = None
        self._stopping = threading.Event()

    def everywhere(self, at: datetime) -> tuple[Beside, ...]:
        """Every place of today's roster: as known, by the roster and plan of then; as it happened, by today's."""
        with self._lock:
            self._asked_at = time.monotonic()
            now, then = self.replay(), self.replay(at)
            if now is then:
                return now.everywhere(at)
            return tuple(
                Beside(
                    (then if place in then.places else now).glance(place, at, View.KNOWN),
                    now.glance(place, at, View.HAPPENED),
                )
                for place in now.places
            )

    def replay(self, at: datetime | None = None) -> Replay:
        """The replay by the roster and plan in force at a moment, brought up to date; by today's without one."""
        with self._lock:
            entries = self._in_force.newest()
            roster, plan, version = self._in_force.then(at)
            kept = self._replays.pop(version, None)
            replay, seen = kept or (Replay(roster, plan, folded=self._folded(roster, plan)), 0)
            replay.add(entries[seen:])
            self._replays[version] = replay, len(entries)
            while len(self._replays) > MOST_REPLAYS:
                self._replays.popitem(last=False)
            return replay

    def _folded(self, roster: Roster, plan: Plan) -> Mapping[str, PlaceState]:
        """The places as they are folded already, where that was with this roster and plan."""
        picture = self._following.picture
        return picture.places if picture.roster is roster and picture.plan is plan else NOWHERE

    def picture(self, at: datetime, view: View) -> Picture:
        """The county's whole picture as of a moment; the last few are kept."""
        with self._lock:
            entries = self._in_force.newest()
            key = (at, view, len(entries))
            picture = self._pictures.get(key)
            if picture is None:
                roster, plan, _ = self._in_force.then(at if view is View.KNOWN else None)
                chosen = (known if view is View.KNOWN else happened)(entries, at)
                picture = Picture.of(roster, plan, chosen, heard_by_happening=view is View.HAPPENED)
                self._pictures[key] = picture
                while len(self._pictures) > MOST_PICTURES:
                    self._pictures.popitem(last=False)
            return picture

    def fold_ahead(self, until: datetime) -> None:
        """Begin to fold the day's moments in a thread of its own, a little at a time, while somebody reviews it."""
        with self._lock:
            self._asked_at = time.monotonic()
            since = self._folded_until
            if not self.folding and (since is None or until - since >= AGAIN_AFTER):
                self._folded_until = until
                self._ahead = threading.Thread(target=self._fold_all, args=(since,), name="fold ahead", daemon=True)
                self._ahead.start()

    @property
    def folding(self) -> bool:
        """Whether the day is being folded ahead at this moment."""
        return self._ahead is not None and self._ahead.is_alive()

    def stop(self) -> None:
        self._stopping.set()

    def everywhere_ahead(self, work: Callable[[Replay, str], None]) -> None:
        """Do some work for every place of today's replay before it is needed, a little at a time."""
        places = deque(self.replay().places)
        while places and not self._stopping.wait(self._do_some(places, work)):
            pass

    def _fold_all(self, since: datetime | None) -> None:
        """Every place as of every moment of its day."""
        try:
            places = deque(self.replay().places)
            while places:
                if time.monotonic() - self._asked_at > NOBODY_LOOKS:
                    self._folded_until = since
                    return
                if self._stopping.wait(self._do_some(places, Replay.fold_ahead)):
                    return
        except Exception:  # noqa: BLE001  the thread's outermost level: without it moments are folded when asked for
            _log.exception("the day could not be folded ahead")

    def _do_some(self, places: deque[str], work: Callable[[Replay, str], None]) -> float:
        """Do some work for the first few of these places and take them off; the seconds to rest, which are as many."""
        if time.monotonic() - self._asked_at < WHOEVER_MOVES_FIRST:
            return WHOEVER_MOVES_FIRST
        began = time.thread_time()
        with self._lock:
            replay = self.replay()
            while places and time.thread_time() - began < AT_ONCE_SECONDS:
                place = places.popleft()
                if place in replay.places:
                    work(replay, place)
        return time.thread_time() - began


def day_of(picture: Picture) -> tuple[datetime, datetime]:
    """From before the first step is due anywhere, a full hour, to some hours after the last closing (aware UTC)."""
    if not picture.expected:
        raise ValueError("there are no places")
    begins = min(each.first_due_at for each in picture.expected.values()) - _BEFORE
    ends = max(each.closes_at for each in picture.expected.values()) + _AFTER
    return begins.replace(minute=0, second=0, microsecond=0), ends
