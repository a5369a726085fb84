"""The one small tree of errors; each door translates it once."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from county.domain.entries import Entry


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with what was given: the field (or `row 12, column opens`) and what it says.

    A `warning` is worth a look but stands in nobody's way.
    """

    field: str
    says: str
    warning: bool = False

    def __str__(self) -> str:
        return f"{self.field}: {self.says}" if self.field else self.says


class PollriseError(Exception):
    """Anything the program refuses in words a person can act on."""


class BadSetting(PollriseError):
    """A setting from the environment that cannot be used; names its variable."""


class BadPlan(PollriseError):
    """A plan file that cannot be used; names file, line (from 1; 0 for the whole file) and reason."""

    def __init__(self, file: str, line: int, reason: str) -> None:
        self.file, self.line, self.reason = file, line, reason
        super().__init__(f"{file}, line {line}: {reason}" if line else f"{file}: {reason}")


class Refused(PollriseError):
    """A report or an action that cannot be understood; carries every problem found."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("; ".join(str(problem) for problem in self.problems))


class BadRoster(Refused):
    """Roster files that cannot be loaded; carries every problem with file, row and column."""


class NotSure(PollriseError):
    """What was asked for changes something the day rests on, and must be asked for once more; each in a sentence."""

    def __init__(self, asked: Sequence[str]) -> None:
        self.asked = tuple(asked)
        super().__init__(" ".join(self.asked))


class NotAllowed(PollriseError):
    """A known sender asked for what its key does not cover."""


class UnknownKey(PollriseError):
    """No such reporting key, or it was revoked."""


class Overtaken(PollriseError):
    """Others acted on the case since it was looked at; carries what they wrote down. Nothing else was."""

    def __init__(self, others: Sequence["Entry"]) -> None:
        self.others = tuple(others)
        who = ", ".join(dict.fromkeys(entry.by for entry in others))
        super().__init__(f"meanwhile {who} acted on this case")


class NotFound(PollriseError):
    """A place, case or file that is not there."""


class Archived(PollriseError):
    """Something was to be added to an archive, which is only read."""


class Busy(PollriseError):
    """More is waiting than can be kept at once; try again after `seconds`."""

    def __init__(self, seconds: int) -> None:
        self.seconds = seconds
        super().__init__(f"too many reports at once; try again in {seconds} s")


class BadCopy(PollriseError):
    """A backup that cannot be written, or cannot be restored; says why."""
