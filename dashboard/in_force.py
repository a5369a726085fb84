"""Which roster and plan were in force at a moment, by the facts of the ledger."""

import logging
from collections.abc import Sequence
from datetime import datetime

from county import upkeep
from county.domain.entries import Entry, Kind
from county.domain.plan import Plan
from county.domain.plan_versions import plan_then
from county.domain.roster import Roster
from county.errors import BadPlan, NotFound
from county.following import Following
from county.wiring import Office

_log = logging.getLogger("pollrise.board")


class InForce:
    """Rosters and plans of one process's ledger. Whoever asks holds a lock of their own."""

    def __init__(self, office: Office, following: Following) -> None:
        self._office = office
        self._following = following
        self._entries: Sequence[Entry] = ()
        self._facts: dict[Kind, list[Entry]] = {Kind.ROSTER: [], Kind.PLAN: []}
        self._rosters: dict[int, Roster] = {}

    def newest(self) -> Sequence[Entry]:
        """Every entry read so far."""
        if len(self._entries) == 0 or self._entries[-1].seq != self._following.seq:
            seen, self._entries = len(self._entries), self._following.entries
            for kind, facts in self._facts.items():
                facts.extend(entry for entry in self._entries[seen:] if entry.kind is kind)
        return self._entries

    def then(self, at: datetime | None) -> tuple[Roster, Plan, tuple[int, int]]:
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


def _in_force(facts: Sequence[Entry], at: datetime | None) -> Entry | None:
    if not facts or at is None:
        return facts[-1] if facts else None
    return next((fact for fact in reversed(facts) if fact.received_at <= at), facts[0])
