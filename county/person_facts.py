"""What is written into the ledger about people at the office: signed in, signed out, added, changed, handed over."""

from collections.abc import Mapping
from uuid import uuid4

from county.clock import Clock
from county.domain.entries import Entry, Kind
from county.wiring import Office

COMMAND = "the office"
"""Who does what is done by a command and not by a person signed in."""
REAL = Clock()
"""Sessions last in real time, also where the day's clock was set to run faster."""


def person_fact(office: Office, person: str, did: str, *, by: str = "", **more: str) -> Entry:
    """The fact that something was done with a person's account or session. No sender's key can hold a stroke."""
    said = {name: value for name, value in more.items() if value}
    return _entry(office, Kind.PERSON, "person", by, {"person": person, "did": did, **said})


def hand_over_fact(office: Office, by: str, **said: object) -> Entry:
    """What a person leaves for the next one at the desk (`note`), or has taken over (`took`, that entry's number)."""
    return _entry(office, Kind.HAND_OVER, "hand-over", by, said)


def _entry(office: Office, kind: Kind, key: str, by: str, fields: Mapping[str, object]) -> Entry:
    now = office.clock.now()
    return Entry(
        key=f"{key}/{uuid4().hex}",
        kind=kind,
        place="",
        happened_at=now,
        received_at=now,
        by=by or COMMAND,
        door="board" if by else "people",
        sender=f"board:{by}" if by else "people",
        fields=fields,
        clock=office.clock.word,
    )
