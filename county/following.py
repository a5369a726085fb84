"""A reader that follows the ledger: the picture as of the last entry read, brought up to date on request."""

import logging
import threading
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from county.domain.entries import REPORT_KINDS, Entry, Kind
from county.domain.intake import Hand, take
from county.domain.picture import Picture
from county.domain.plan import Plan
from county.domain.plan_versions import versions
from county.domain.roster import Roster
from county.errors import BadPlan, NotAllowed, Refused
from county.store import ledger
from county.store import roster as stored_roster
from county.store.engine import reading
from county.wiring import Office

_ANEW = (Kind.ROSTER, Kind.PLAN)
"""What changes everything that was folded before."""
_log = logging.getLogger(__name__)


class Following:
    """The county's picture and every entry behind it. Any thread may ask; `catch_up` reads what is new."""

    def __init__(self, office: Office) -> None:
        self._office = office
        self._lock = threading.Lock()
        self._entries: list[Entry] = []
        self._seq = 0
        self._last_received_at: datetime | None = None
        with reading(office.engine) as connection:
            self._picture = Picture(stored_roster.load(connection), office.plan)

    @property
    def picture(self) -> Picture:
        """The picture as of the last entry read; another one after the roster or the plan has changed."""
        return self._picture

    @property
    def office(self) -> Office:
        """The office with the plan that is in force as of the last entry read."""
        return replace(self._office, plan=self._picture.plan)

    @property
    def entries(self) -> Sequence[Entry]:
        """Every entry read so far, in the ledger's order."""
        return tuple(self._entries)

    @property
    def seq(self) -> int:
        """The number of the last entry read; 0 where there is none."""
        return self._seq

    @property
    def last_received_at(self) -> datetime | None:
        """When the latest report was received (aware UTC); None where there is none."""
        return self._last_received_at

    def read_report(self, raw: object, hand: Hand) -> Entry:
        """A raw report as `intake.take` reads it; none is refused by a roster or a plan that has just been replaced.

        Raises Refused or NotAllowed as intake does.
        """
        try:
            return take(raw, hand, self._picture.roster, self._picture.plan)
        except (Refused, NotAllowed):
            # folding all that is new for each refusal would let one bad file hold up everybody
            if not self._all_is_newer():
                raise
            self.catch_up()
            return take(raw, hand, self._picture.roster, self._picture.plan)

    def _all_is_newer(self) -> bool:
        with reading(self._office.engine) as connection:
            return any(ledger.has_kind(connection, kind, self._seq) for kind in _ANEW)

    def catch_up(self) -> set[str]:
        """Read what was appended since; the places that it touches, every place after roster or plan have changed."""
        with self._lock:
            new, roster = self._read_new()
            if not new:
                return set()
            # folding first: where it fails, the same entries are read again
            touched = self._fold_in(new, roster)
            self._entries.extend(new)
            self._seq = new[-1].seq
            received = max((entry.received_at for entry in new if entry.kind in REPORT_KINDS), default=None)
            if received is not None:
                self._last_received_at = max(received, self._last_received_at or received)
        return touched

    def _read_new(self) -> tuple[list[Entry], Roster | None]:
        """All that is new, at once, so that each place is folded once; the roster of that very moment if need be."""
        with reading(self._office.engine) as connection:
            new = ledger.read(connection, self._seq)
            anew = any(entry.kind in _ANEW for entry in new)
            return new, stored_roster.load(connection) if anew else None

    def _fold_in(self, new: Sequence[Entry], roster: Roster | None) -> set[str]:
        if roster is None:
            return self._picture.add(new)
        self._picture = Picture.of(roster, newest_plan(new, self._picture.plan), [*self._entries, *new])
        return set(self._picture.places)


def newest_plan(entries: Sequence[Entry], otherwise: Plan) -> Plan:
    """The newest plan among these entries, else the other one."""
    for version in reversed(versions(entries)):
        try:
            return version.plan()
        except BadPlan:  # a newer program's: going on with the plan there was is better than standing still
            _log.exception("%s cannot be read", version.name)
    return otherwise
