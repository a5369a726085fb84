"""The desk passes from one person to the next: a note is left, and taken over once; both are facts of the ledger."""

from dataclasses import replace

from county.allowed import must_be_allowed
from county.domain.desk_watch import WATCHED
from county.domain.entries import Entry
from county.domain.receipts import Outcome
from county.errors import Problem, Refused
from county.person_facts import hand_over_fact
from county.store import ledger
from county.store.engine import reading, writing
from county.wiring import Office

LONGEST_NOTE = 2_000


def leave(office: Office, by: str, note: str) -> None:
    """Write down what a person leaves for the next one. Raises Refused where there is nothing in it, or NotAllowed."""
    if not note.strip():
        raise Refused([Problem("note", "there is nothing in it yet")])
    _write(office, hand_over_fact(office, by, note=note.strip()[:LONGEST_NOTE]))


def take_over(office: Office, by: str, seq: int) -> None:
    """Write down that a person has taken over what was handed over as this entry. Raises Refused where another has."""
    fact = replace(hand_over_fact(office, by, took=seq), key=f"hand-over/taken/{seq}")
    _write(office, fact)


def facts(office: Office, after: int) -> tuple[list[Entry], int]:
    """What the ledger holds about who is on the desk after a number, and the number of its last entry."""
    with reading(office.engine) as connection:
        last, _ = ledger.head(connection)
        return ledger.of_kinds(connection, WATCHED, after), last


def _write(office: Office, fact: Entry) -> None:
    with writing(office.engine) as connection:
        must_be_allowed(connection, [fact])
        (receipt,) = ledger.append(connection, [fact])
    if receipt.outcome is not Outcome.KEPT:
        raise Refused([Problem("", "somebody else has taken it over already")])
