"""What a check of readiness is, and what it finds: one thing to do, with where to do it."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum

from county.domain.readiness.facts import Facts


class Weight(StrEnum):
    """How much a thing weighs, worst first."""

    STOPS = "stops the day"
    LOOK = "to look at"
    HINT = "a hint"


class Where(StrEnum):
    """Where a thing is put right: the part of the Set-up page, or the settings of the programs."""

    ROSTER = "Roster"
    PLAN = "Plan"
    PEOPLE = "People"
    KEYS = "Keys and cards"
    REHEARSAL = "Rehearsal"
    SETTINGS = "settings"


@dataclass(frozen=True, slots=True)
class Check:
    """One check with a stable id. `finds` names what is wrong, a few words each; nothing where all is well.

    `one` and `many` say it for one and for several, with `{n}` for how many; `mend` says what to do.
    """

    id: str
    weight: Weight
    where: Where
    one: str
    many: str
    mend: str
    finds: Callable[[Facts], Iterable[str]]
    source: str = ""


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing to do: the check that found it, and what it found."""

    check: Check
    found: tuple[str, ...]

    @property
    def says(self) -> str:
        """The thing in a sentence, without what was found: `12 devices have no recorded seals`."""
        return (self.check.one if len(self.found) == 1 else self.check.many).format(n=f"{len(self.found):,}")
