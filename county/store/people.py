"""The people at the office and what each is there for."""

from datetime import datetime

from sqlalchemy import Connection, insert, select

from county.domain.people import Person, Role
from county.store.schema import people


def add(connection: Connection, person: Person, now: datetime) -> None:
    """Add a person whose name is not taken."""
    connection.execute(insert(people), {"name": person.name, "role": person.role.value, "added_at": now})


def everyone(connection: Connection) -> tuple[Person, ...]:
    """Everybody, by name."""
    rows = connection.execute(select(people.c.name, people.c.role).order_by(people.c.name))
    return tuple(Person(name, Role(role)) for name, role in rows)
