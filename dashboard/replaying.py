"""The day replayed for everybody who reviews it: each moment with the roster and plan of then, folded ahead of need."""

import logging
import threading
import time
from collections import OrderedDict
from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta

from county import upkeep
from county.domain.entries import Entry, Kind
from county.domain.picture import Picture, happened, known
from county.domain.plan import Plan
from county.domain.plan_versions import plan_then
from county.domain.replay import Beside, Replay, View
from county.domain.roster import Roster
from county.errors import BadPlan, NotFound
from county.following import Following
from county.wiring import Office

GRIDS = (60, 30, 15, 5, 1)
"""Minutes between the moments that are folded ahead: coarse ones first."""
AT_ONCE, REST_SECONDS, NOBODY_LOOKS = 10, 0.008, 600.0
AGAIN_AFTER = timedelta(minutes=15)
MOST_PICTURES, MOST_REPLAYS = 4, 3
_BEFORE, _AFTER = timedelta(minutes=30), timedelta(hours=4)
_log = logging.getLogger("pollrise.board")


class Replaying:
    """Replays of one process's ledger. Any thread may ask; what was folded for one is there for all."""

    def __init__(self, office: Office, following: Following) -> None:
        self._office = office
        self._following = following
        self._lock = threading.RLock()
        self._entries: Sequence[Entry] = ()
        self._facts: dict[Kind, list[Entry]] = {Kind.ROSTER: [], Kind.PLAN: []}
        self._replays: OrderedDict[tuple[int, int], tuple[Replay, int]] = OrderedDict()
        self._rosters: dict[int, Roster] = {}
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
                Beside((then if place in then.places else now).glance(place, at, View.KNOWN), of_now)
                for place, of_now in ((each.place, each.happened) for each in now.everywhere(at))
            )

    def replay(self, at: datetime | None = None) -> Replay:
        """The replay by the roster and plan in force at a moment, brought up to date; by today's without one."""
        with self._lock:
            entries = self._newest()
            roster, plan, version = self._then(at)
            kept = self._replays.pop(version, None)
            replay, seen = kept or (Replay(roster, plan), 0)
            replay.add(entries[seen:])
            self._replays[version] = replay, len(entries)
            while len(self._replays) > MOST_REPLAYS:
                self._replays.popitem(last=False)
            return replay

    def picture(self, at: datetime, view: View) -> Picture:
        """The county's whole picture as of a moment; the last few are kept."""
        with self._lock:
            entries = self._newest()
            key = (at, view, len(entries))
            picture = self._pictures.get(key)
            if picture is None:
                roster, plan, _ = self._then(at if view is View.KNOWN else None)
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
                self._ahead = threading.Thread(
                    target=self._fold_all, args=(since, until), name="fold ahead", daemon=True
                )
                self._ahead.start()

    @property
    def folding(self) -> bool:
        """Whether the day is being folded ahead at this moment."""
        return self._ahead is not None and self._ahead.is_alive()

    def stop(self) -> None:
        self._stopping.set()

    def _newest(self) -> Sequence[Entry]:
        if len(self._entries) == 0 or self._entries[-1].seq != self._following.seq:
            seen, self._entries = len(self._entries), self._following.entries
            for kind, facts in self._facts.items():
                facts.extend(entry for entry in self._entries[seen:] if entry.kind is kind)
        return self._entries

    def _then(self, at: datetime | None) -> tuple[Roster, Plan, tuple[int, int]]:
        """Roster and plan in force at a moment, and a name for the two; before the first of either, the first."""
        today = self._following.picture
        rosters, plans = self._facts[Kind.ROSTER], self._facts[Kind.PLAN]
        loaded, made = _in_force(rosters, at), _in_force(plans, at)
        roster = today.roster if loaded is None or loaded is rosters[-1] else self._roster(loaded, today.roster)
        plan = today.plan if made is None or made is plans[-1] else self._plan(plans, made, today.plan)
        return roster, plan, (loaded.seq if loaded else 0, made.seq if made else 0)

    def _roster(self, loaded: Entry, today: Roster) -> Roster:
        if loaded.seq not in self._rosters:
            try:
                self._rosters[loaded.seq] = upkeep.roster_as_at(self._office, loaded.received_at)
            except NotFound:
                _log.warning("the roster of entry %d was not kept; the newest is taken", loaded.seq)
                self._rosters[loaded.seq] = today
        return self._rosters[loaded.seq]

    def _plan(self, plans: Sequence[Entry], made: Entry, today: Plan) -> Plan:
        try:
            return plan_then(plans, made.received_at, today)
        except BadPlan:
            _log.warning("the plan of entry %d cannot be read; the newest is taken", made.seq)
            return today

    def _fold_all(self, since: datetime | None, until: datetime) -> None:
        try:
            for at in self._moments(since, until):
                self._fold_some(at)
                if self._stopping.is_set():
                    return
                if time.monotonic() - self._asked_at > NOBODY_LOOKS:
                    self._folded_until = since
                    return
        except Exception:  # noqa: BLE001  the thread's outermost level: without it moments are folded when asked for
            _log.exception("the day could not be folded ahead")

    def _moments(self, since: datetime | None, until: datetime) -> Iterator[datetime]:
        begins, ends = day_of(self._following.picture)
        begins, ends = max(begins, since or begins), min(until, ends)
        for minutes in GRIDS:
            step = timedelta(minutes=minutes)
            for number in range(int((ends - begins) / step) + 1):
                yield begins + number * step

    def _fold_some(self, at: datetime) -> None:
        replay = self.replay()
        places = list(replay.places)
        for first in range(0, len(places), AT_ONCE):
            with self._lock:
                folded = [replay.fold_ahead(place, at) for place in places[first : first + AT_ONCE]]
            if any(folded) and self._stopping.wait(REST_SECONDS):
                return


def _in_force(facts: Sequence[Entry], at: datetime | None) -> Entry | None:
    if not facts or at is None:
        return facts[-1] if facts else None
    return next((fact for fact in reversed(facts) if fact.received_at <= at), facts[0])


def day_of(picture: Picture) -> tuple[datetime, datetime]:
    """From before the first step is due anywhere, a full hour, to some hours after the last closing (aware UTC)."""
    if not picture.expected:
        raise ValueError("there are no places")
    begins = min(each.first_due_at for each in picture.expected.values()) - _BEFORE
    ends = max(each.closes_at for each in picture.expected.values()) + _AFTER
    return begins.replace(minute=0, second=0, microsecond=0), ends
