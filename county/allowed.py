"""Whoever writes something down at the board may do so in the role they have at that moment, or nothing is written."""

from collections.abc import Iterable

from sqlalchemy import Connection

from county.domain.entries import Entry
from county.domain.people import Role
from county.domain.roles import Deed, deed_of, may
from county.errors import NotAllowed
from county.store import people
from county.store.engine import reading
from county.wiring import Office

AT_THE_BOARD = "board:"
"""How the sender of an entry begins that a person wrote down at the board."""


def must_be_allowed(connection: Connection, entries: Iterable[Entry]) -> None:
    """Raises NotAllowed where a person at the board may not write one of these down. Keys and clocks are not judged."""
    for sender, deed in {(each.sender, deed_of(each)) for each in entries if each.sender.startswith(AT_THE_BOARD)}:
        must_be_allowed_here(connection, sender.removeprefix(AT_THE_BOARD), deed)


def must_be_allowed_to(office: Office, name: str, deed: Deed) -> None:
    """Raises NotAllowed where this person at the board may not do it."""
    with reading(office.engine) as connection:
        must_be_allowed_here(connection, name, deed)


def must_be_allowed_here(connection: Connection, name: str, deed: Deed | None) -> None:
    """The same within a transaction; nobody may do what is no deed at all."""
    account = people.named(connection, name)
    role: Role | None = account.role if account and account.name == name and not account.ended_at else None
    if role is None:
        raise NotAllowed(f"{name} has no account here any more")
    if deed is None or not may(role, deed):
        raise NotAllowed(f"{name} is here as {role}, who may not {deed or 'write this down'}")
