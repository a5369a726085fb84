"""The day replayed for everybody who reviews it: each moment with the roster and plan of then, folded ahead of need."""

import gc
import logging
import threading
import time
from collections import OrderedDict, deque
from collections.abc import Mapping
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
from dashboard.beside import again_and_again
from dashboard.in_force import InForce

AT_ONCE_SECONDS, EVERY_SECONDS = 0.004, 5.0
WHOEVER_MOVES_FIRST = 0.25
"""Seconds after a moment was asked for in which nothing is folded ahead: its picture is being drawn."""
WORTH_KEEPING_OUT = 5_000
"""Entries from which on going through them is felt, a hundredth of a second and more."""
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
        self._folded_to = -1
        self._held = 0
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

    def look(self) -> None:
        """Fold every place as of every moment of its day, a little at a time, so that nobody need wait for it later."""
        seq = self._following.seq
        if seq == self._folded_to:
            return
        places = deque(self.replay().places)
        while places:
            if self._stopping.wait(self._fold_some(places)):
                return
        self._folded_to = seq
        self._keep_out_of_collections()

    def _keep_out_of_collections(self) -> None:
        """Entries and what was folded of them stay for good: going through them for garbage holds every page up."""
        with self._lock:
            held = len(self._in_force.newest())
        if held >= 2 * self._held + WORTH_KEEPING_OUT:
            self._held = held
            gc.collect()
            gc.freeze()

    def follow(self) -> None:
        """Look until stopped; after trouble moments are folded when somebody asks for them, and it is tried again."""
        again_and_again(self.look, self._stopping, EVERY_SECONDS, self._failed)

    def _failed(self) -> None:
        _log.exception("the day could not be folded ahead")

    def stop(self) -> None:
        self._stopping.set()

    def _fold_some(self, places: deque[str]) -> float:
        """Fold the first few of these places ahead and take them off; the seconds to rest, which are as many."""
        if time.monotonic() - self._asked_at < WHOEVER_MOVES_FIRST:
            return WHOEVER_MOVES_FIRST
        began = time.thread_time()
        with self._lock:
            replay = self.replay()
            while places and time.thread_time() - began < AT_ONCE_SECONDS:
                place = places.popleft()
                if place in replay.places:
                    replay.fold_ahead(place)
        return time.thread_time() - began


def day_of(picture: Picture) -> tuple[datetime, datetime]:
    """From before the first step is due anywhere, a full hour, to some hours after the last closing (aware UTC)."""
    if not picture.expected:
        raise ValueError("there are no places")
    begins = min(each.first_due_at for each in picture.expected.values()) - _BEFORE
    ends = max(each.closes_at for each in picture.expected.values()) + _AFTER
    return begins.replace(minute=0, second=0, microsecond=0), ends
