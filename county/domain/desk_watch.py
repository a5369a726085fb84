"""Who is on the desk, since when, and what was handed over and not taken yet: folded from the ledger's own facts."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime

from county.domain.entries import Entry, Kind
from county.domain.people import Role
from county.domain.roles import AT_THE_DESK

WATCHED = (Kind.PERSON, Kind.HAND_OVER)


@dataclass(frozen=True, slots=True)
class OnTheDesk:
    """A person signed in at the desk, since their first session that lasts (UTC)."""

    name: str
    role: Role
    since: datetime


@dataclass(frozen=True, slots=True)
class HandedOver:
    """What a person left for the next one; `seq` is its number in the ledger."""

    seq: int
    by: str
    at: datetime
    note: str


@dataclass(frozen=True, slots=True)
class Signed:
    """A person's sessions that last: how many, since when, and their role as the facts tell it."""

    role: Role
    sessions: int = 0
    since: datetime | None = None


class DeskWatch:
    """The fold: give it facts in the ledger's order; what is no such fact is passed over."""

    def __init__(self) -> None:
        self._signed: dict[str, Signed] = {}
        self._waiting: dict[int, HandedOver] = {}

    def add(self, facts: Iterable[Entry]) -> None:
        """Take in more facts."""
        for fact in facts:
            if fact.kind is Kind.PERSON:
                self._person(fact)
            elif fact.kind is Kind.HAND_OVER:
                self._hand_over(fact)

    @property
    def on_the_desk(self) -> tuple[OnTheDesk, ...]:
        """Who is there, the longest there first."""
        there = [
            OnTheDesk(name, each.role, each.since)
            for name, each in self._signed.items()
            if each.sessions and each.since and each.role in AT_THE_DESK
        ]
        return tuple(sorted(there, key=lambda each: (each.since, each.name)))

    @property
    def waiting(self) -> tuple[HandedOver, ...]:
        """What was handed over and nobody has taken, the newest first."""
        return tuple(sorted(self._waiting.values(), key=lambda each: -each.seq))

    def _person(self, fact: Entry) -> None:
        name, did = fact.text("person"), fact.text("did")
        held = self._signed.get(name, Signed(Role.VIEWER))
        if fact.text("role"):
            held = replace(held, role=Role(fact.text("role")))
        if did == "signed-in":
            held = replace(held, sessions=held.sessions + 1, since=held.since or fact.happened_at)
        elif did == "signed-out":
            left = max(0, held.sessions - 1)
            held = replace(held, sessions=left, since=held.since if left else None)
        self._signed[name] = held

    def _hand_over(self, fact: Entry) -> None:
        took = fact.number("took")
        if took is None:
            self._waiting[fact.seq] = HandedOver(fact.seq, fact.by, fact.happened_at, fact.text("note"))
        else:
            self._waiting.pop(took, None)
