"""The versions of the county's plan: each a fact of the ledger with its whole text, so that none is ever lost."""

import difflib
import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from types import MappingProxyType

from county.domain.entries import Entry, Kind
from county.domain.intake import Hand
from county.domain.plan import Plan
from county.domain.plan_file import parse_plan

FILE = "file"
"""The door of a version that was only seen in the plan file; the file stays the truth until a person makes one."""
LONGEST = 400_000


@dataclass(frozen=True, slots=True)
class PlanVersion:
    """One version: its number from 1, since when it is in force (aware UTC), by whom, through which door, its text.

    `seq` is its number in the ledger, `note` why it was made, `digest` the text's SHA-256 in hex.
    """

    number: int
    at: datetime
    by: str
    door: str
    text: str
    digest: str
    rehearsal: bool
    note: str
    seq: int

    @property
    def by_a_person(self) -> bool:
        """Whether somebody made it on the board or loaded it, rather than a program seeing it in the file."""
        return self.door != FILE

    @property
    def name(self) -> str:
        """What it is called in messages."""
        return f"plan version {self.number}"

    def plan(self) -> Plan:
        """The plan that it says. Raises BadPlan where a newer program no longer reads it."""
        return _read(self.text, self.name)


def version_of(entry: Entry) -> PlanVersion:
    """The version that an entry of kind `plan` holds."""
    return PlanVersion(
        number=entry.number("version") or 0,
        at=entry.received_at,
        by=entry.by,
        door=entry.door,
        text=entry.text("text"),
        digest=entry.text("text_digest"),
        rehearsal=bool(entry.fields.get("rehearsal")),
        note=entry.text("note"),
        seq=entry.seq,
    )


def versions(entries: Iterable[Entry]) -> tuple[PlanVersion, ...]:
    """Every version among these entries, oldest first."""
    found = [version_of(entry) for entry in entries if entry.kind is Kind.PLAN]
    return tuple(sorted(found, key=lambda version: version.number))


def plan_then(entries: Iterable[Entry], at: datetime, otherwise: Plan) -> Plan:
    """The plan in force at a moment (aware UTC), as the ledger knows it.

    Before the first version it is the first; `otherwise` where there is none.
    """
    every = versions(entries)
    if not every:
        return otherwise
    return next((version for version in reversed(every) if version.at <= at), every[0]).plan()


def plan_entry(number: int, text: str, plan: Plan, hand: Hand, note: str = "") -> Entry:
    """The fact that this text is the plan from now on. One key a number, so that two people cannot both make it."""
    fields = {
        "version": number,
        "text": text,
        "text_digest": text_digest(text),
        "rehearsal": plan.election.rehearsal,
        **({"note": note} if note else {}),
    }
    return Entry(
        # no sender's key can hold a stroke
        key=f"plan/{number}",
        kind=Kind.PLAN,
        place="",
        happened_at=hand.received_at,
        received_at=hand.received_at,
        by=hand.by,
        door=hand.door,
        sender=hand.sender,
        fields=MappingProxyType(fields),
        clock=hand.clock,
    )


def text_digest(text: str) -> str:
    """SHA-256, in hex, of a plan's text."""
    return hashlib.sha256(text.encode()).hexdigest()


def difference(before: str, after: str) -> tuple[str, ...]:
    """What changed between two texts, as lines that begin with `-`, `+` or a space, three lines around each change."""
    lines = difflib.unified_diff(before.splitlines(), after.splitlines(), lineterm="", n=3)
    return tuple(line for line in lines if not line.startswith(("---", "+++")))


@lru_cache(maxsize=16)
def _read(text: str, name: str) -> Plan:
    return parse_plan(text, name)
