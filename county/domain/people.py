"""The people at the office: a name, and what they are there for."""

from dataclasses import dataclass
from enum import StrEnum

from county.domain.entries import Shape
from county.domain.field_shapes import READ
from county.errors import Problem, Refused

LONGEST_NAME = 60


class Role(StrEnum):
    """What a person is there for."""

    DESK = "desk"
    LEAD = "lead"
    ROVER = "rover"
    VIEWER = "viewer"


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody who works at the office on election day."""

    name: str
    role: Role


def read_name(text: str) -> str:
    """A person's or a desk's name as it may stand on the board: 1 to 60 characters. Raises Refused."""
    try:
        name = " ".join(str(READ[Shape.WORD](text)).split())
    except ValueError as error:
        raise Refused([Problem("name", str(error))]) from None
    if not 1 <= len(name) <= LONGEST_NAME:
        raise Refused([Problem("name", f"must be 1 to {LONGEST_NAME} characters")])
    return name
