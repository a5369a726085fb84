"""The people at the office: a name, what they are there for, and how their account stands."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from county.domain.entries import Shape
from county.domain.field_shapes import READ
from county.errors import Problem, Refused

LONGEST_NAME = 60
LONGEST_KNOWN_AS = 200


class Role(StrEnum):
    """What a person is there for."""

    DESK = "desk"
    LEAD = "lead"
    ROVER = "rover"
    VIEWER = "viewer"

    @property
    def only_sees(self) -> bool:
        """Whether this role never does anything at the board."""
        return self is Role.VIEWER


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody who works at the office on election day."""

    name: str
    role: Role


@dataclass(frozen=True, slots=True)
class Account:
    """A person's account. `known_as` is what the county's sign-in provider calls them; empty where it does not.

    An account that has ended signs nobody in. `must_change` holds until the first password was changed.
    """

    person: Person
    added_at: datetime
    must_change: bool = False
    known_as: str = ""
    ended_at: datetime | None = None

    @property
    def name(self) -> str:
        return self.person.name

    @property
    def role(self) -> Role:
        return self.person.role


@dataclass(frozen=True, slots=True)
class SignedIn:
    """A person signed in: the session's mark (never what its cookie holds), who, in which role, since when (UTC)."""

    session: str
    name: str
    role: Role
    since: datetime
    must_change: bool = False


def read_name(text: str) -> str:
    """A person's or a desk's name as it may stand on the board: 1 to 60 characters. Raises Refused."""
    try:
        name = " ".join(str(READ[Shape.WORD](text)).split())
    except ValueError as error:
        raise Refused([Problem("name", str(error))]) from None
    if not 1 <= len(name) <= LONGEST_NAME:
        raise Refused([Problem("name", f"must be 1 to {LONGEST_NAME} characters")])
    return name


def same_name(one: str, other: str) -> bool:
    """Whether two names are one person's: small and capital letters and spaces are not told apart."""
    return " ".join(one.split()).casefold() == " ".join(other.split()).casefold()


def known_form(text: str) -> str:
    """What a provider calls somebody, as it is compared: an e-mail address in small letters, anything else as it is."""
    plain = text.strip()
    return plain.casefold() if "@" in plain else plain
