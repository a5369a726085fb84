"""One line behind its place and its first word, and what reading it may come to."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TypeAlias
from zoneinfo import ZoneInfo

from county.domain.broadcasts import Broadcast
from county.domain.expected import Expected
from county.domain.plan import Plan
from county.domain.text_line.place import named
from county.errors import PollriseError

Raw: TypeAlias = dict[str, object]


# said around what is meant, and no part of it
_FILLERS = """
    hi hello hey this is from its here we are were at the polls poll polling place now officially declared and as of
    in people voters on about approx have with thanks thank you pls please time ok
"""
FILLERS = frozenset(_FILLERS.split())


class Unclear(PollriseError):
    """A line that cannot be understood, with the reason in words and a line that could be; empty where any would do."""

    def __init__(self, says: str, example: str = "") -> None:
        self.example = example
        super().__init__(says)


@dataclass(frozen=True, slots=True)
class Line:
    """What stands behind the place and the word a line begins with, and what is needed to read it (`now` aware UTC).

    `messages` are those from the office that this line may acknowledge.
    """

    words: list[str]
    typed: str
    expected: Expected
    plan: Plan
    now: datetime
    messages: tuple[Broadcast, ...] = ()

    @property
    def place(self) -> str:
        return self.expected.place.place

    @property
    def zone(self) -> ZoneInfo:
        return ZoneInfo(self.expected.place.time_zone or self.plan.election.zone)

    def with_words(self, words: list[str]) -> "Line":
        """The same line with other words left to read."""
        return replace(self, words=words)

    def device(self, types: tuple[str, ...] = ("scanner",)) -> tuple[str, "Line"]:
        """The device of these types that the line names first, if any, and the line without it."""
        devices = [device for device, type_ in self.expected.device_types.items() if type_ in types]
        name, took = named(self.words, devices)
        return name, self.with_words(self.words[took:])

    def due(self, step: str) -> datetime:
        """When the step is due here; for a step the plan does not have, the opening."""
        return next((each.due_at for each in self.expected.steps if each.key == step), self.expected.opens_at)


@dataclass(frozen=True, slots=True)
class Understood:
    """The raw reports of one line (without key and place), and what was understood, in words."""

    raws: tuple[Raw, ...]
    says: str


Reads: TypeAlias = Callable[[Line], Understood]
