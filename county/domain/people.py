"""The people at the office: a name, and what they are there for."""

from dataclasses import dataclass
from enum import StrEnum


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
