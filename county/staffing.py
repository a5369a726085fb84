"""Who works at the office: added with a first password, their role changed, a password reset, an account ended.

`by` is the person at the board who does it, empty for a command. Raises NotAllowed where they may not, and then nothing
is done.
"""

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import Connection

from county.allowed import must_be_allowed_here
from county.domain.people import LONGEST_KNOWN_AS, Account, Person, Role
from county.domain.roles import Deed
from county.errors import NotFound, Problem, Refused
from county.person_facts import REAL, person_fact
from county.session_ends import Why, end_sessions
from county.store import ledger, people
from county.store.engine import reading, writing
from county.store.password_hashes import first_password, hashed
from county.wiring import Office


def add_person(office: Office, person: Person, *, known_as: str = "", must_change: bool = True, by: str = "") -> str:
    """Add a person; their first password, which is kept nowhere, or nothing where the same person stands already.

    Raises Refused where the name stands in another role or is not in use any more, or somebody else is known so.
    """
    password = first_password()
    kept = hashed(password)
    with _by(office, by) as connection:
        held = people.named(connection, person.name)
        if held:
            return _stands(held, person)
        _must_be_nobodys(connection, known_as)
        people.add(connection, person, REAL.now(), password=kept, must_change=must_change, known_as=known_as)
        ledger.append(connection, [person_fact(office, person.name, "added", by=by, role=person.role)])
    return password


def reset_password(office: Office, name: str, by: str = "") -> str:
    """A new first password for a person, who is signed out everywhere. Raises NotFound."""
    password = first_password()
    kept = hashed(password)
    with _by(office, by) as connection:
        held = _held(connection, name)
        people.change(connection, held.name, password=kept, must_change=True, ended_at=None)
        did = "taken-back" if held.ended_at else "password-reset"
        ledger.append(connection, [person_fact(office, held.name, did, by=by, role=held.role)])
        end_sessions(office, connection, held.name, Why.REVOKED)
    return password


def change_role(office: Office, name: str, role: Role, by: str = "") -> bool:
    """What a person is there for from now on, also where they are signed in; False where nothing changes.

    Raises NotFound, or Refused where nobody would be left who may do such a thing.
    """
    with _by(office, by) as connection:
        held = _held(connection, name)
        if held.role is role:
            return False
        _must_not_be_the_last(connection, held)
        people.change(connection, held.name, role=role.value)
        ledger.append(connection, [person_fact(office, held.name, "role-changed", by=by, role=role)])
    return True


def end_account(office: Office, name: str, by: str = "") -> bool:
    """End a person's account and sign them out everywhere at once; False where it had ended already.

    Raises NotFound, or Refused where nobody would be left who may do such a thing.
    """
    with _by(office, by) as connection:
        held = _held(connection, name)
        if held.ended_at:
            return False
        _must_not_be_the_last(connection, held)
        people.change(connection, held.name, ended_at=REAL.now())
        ledger.append(connection, [person_fact(office, held.name, "ended", by=by)])
        end_sessions(office, connection, held.name, Why.REVOKED)
    return True


def sign_out_everywhere(office: Office, name: str, by: str = "") -> int:
    """End every session of a person, whose account goes on; how many there were. Raises NotFound."""
    with _by(office, by) as connection:
        return end_sessions(office, connection, _held(connection, name).name, Why.REVOKED)


def call_by(office: Office, name: str, known_as: str, by: str = "") -> None:
    """Write down what the county's sign-in provider calls a person. Raises NotFound, or Refused where it is taken."""
    with _by(office, by) as connection:
        held = _held(connection, name)
        if held.known_as != known_as:
            _must_be_nobodys(connection, known_as)
            people.change(connection, held.name, known_as=known_as)
            ledger.append(connection, [person_fact(office, held.name, "known-as-changed", by=by)])


def everyone(office: Office) -> tuple[Person, ...]:
    """The people at the office whose accounts stand, by name."""
    with reading(office.engine) as connection:
        return people.everyone(connection)


def accounts(office: Office) -> tuple[Account, ...]:
    """Every account, ended ones too, by name."""
    with reading(office.engine) as connection:
        return people.accounts(connection)


@contextmanager
def _by(office: Office, by: str) -> Iterator[Connection]:
    """A writing transaction of somebody who may look after people."""
    with writing(office.engine) as connection:
        if by:
            must_be_allowed_here(connection, by, Deed.STAFF)
        yield connection


def _held(connection: Connection, name: str) -> Account:
    held = people.named(connection, name)
    if held is None:
        raise NotFound(f"there is nobody called {name[:80]}")
    return held


def _stands(held: Account, person: Person) -> str:
    if held.ended_at:
        says = f"{held.name} was here, and the account has ended; `people password` takes it back"
        raise Refused([Problem("name", says)])
    if held.person != person:
        raise Refused([Problem("name", f"{held.name} is there already, as {held.role}")])
    return ""


def _must_be_nobodys(connection: Connection, known_as: str) -> None:
    if len(known_as) > LONGEST_KNOWN_AS:
        raise Refused([Problem("known as", f"must have at most {LONGEST_KNOWN_AS} characters")])
    held = people.known_as(connection, known_as)
    if held:
        raise Refused([Problem("known as", f"{held.name} is known so already")])


def _must_not_be_the_last(connection: Connection, held: Account) -> None:
    leads = [each for each in people.everyone(connection) if each.role is Role.LEAD]
    if leads == [held.person]:
        raise Refused([Problem("role", f"{held.name} is the only lead; make somebody else one first")])
