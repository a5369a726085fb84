"""The people at the office, what each is there for, and how each account stands."""

from datetime import datetime

from sqlalchemy import Connection, Row, insert, select, update

from county.domain.people import Account, Person, Role, same_name
from county.store.schema import people


def add(
    connection: Connection,
    person: Person,
    now: datetime,
    *,
    password: str = "",
    must_change: bool = False,
    known_as: str = "",
) -> None:
    """Add a person whose name is not taken; `password` is a hash, empty where they have none."""
    told = {"name": person.name, "role": person.role.value, "added_at": now}
    connection.execute(insert(people), told | {"password": password, "must_change": must_change, "known_as": known_as})


def everyone(connection: Connection) -> tuple[Person, ...]:
    """Everybody whose account has not ended, by name."""
    return tuple(account.person for account in accounts(connection) if account.ended_at is None)


def accounts(connection: Connection) -> tuple[Account, ...]:
    """Every account, ended ones too, by name."""
    return tuple(_account(row) for row in connection.execute(select(people).order_by(people.c.name)))


def named(connection: Connection, name: str) -> Account | None:
    """The account with this name, as people write it: small and capital letters are not told apart."""
    exact = connection.execute(select(people).where(people.c.name == name)).one_or_none()
    if exact:
        return _account(exact)
    return next((each for each in accounts(connection) if same_name(each.name, name)), None)


def known_as(connection: Connection, subject: str) -> Account | None:
    """The account that the county's sign-in provider calls so; None also where it is not clear whose it is."""
    rows = connection.execute(select(people).where(people.c.known_as == subject)).all() if subject else []
    return _account(rows[0]) if len(rows) == 1 else None


def password_of(connection: Connection, name: str) -> str:
    """The hash of a person's password; empty where there is none."""
    return connection.execute(select(people.c.password).where(people.c.name == name)).scalar() or ""


def change(connection: Connection, name: str, **columns: object) -> None:
    """Change columns of one account."""
    connection.execute(update(people).where(people.c.name == name), columns)


def _account(row: Row[tuple[object, ...]]) -> Account:
    return Account(Person(row.name, Role(row.role)), row.added_at, row.must_change, row.known_as, row.ended_at)
