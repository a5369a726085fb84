"""A form that lacked something, so that it can be shown again as it was typed."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from county.errors import Problem


@dataclass(frozen=True, slots=True)
class Troubled:
    """The form's place on the page (`anchor`, empty where there is none), what was typed, and what is wrong."""

    anchor: str = ""
    typed: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    problems: tuple[Problem, ...] = ()

    def wrong(self, name: str) -> str:
        """What is wrong with this field; empty where nothing is."""
        return "; ".join(problem.says for problem in self.problems if problem.field == name)

    def value(self, anchor: str, name: str) -> str:
        """What was typed into this field of this form."""
        return self.typed.get(name, "") if anchor == self.anchor else ""
