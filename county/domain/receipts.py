"""What a sender is answered: a receipt for each report; and what is set aside because it could not be kept."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from county.errors import Problem


class Outcome(StrEnum):
    """What became of one report."""

    KEPT = "kept"
    ALREADY_HELD = "already-held"
    CONFLICT = "conflict"
    REFUSED = "refused"


@dataclass(frozen=True, slots=True)
class Receipt:
    """The answer to one report. `seq` is 0 where nothing stands in the ledger; `received_at` (UTC) is the kept entry's.

    At a conflict `seq` and `received_at` are those of the entry that stands.
    """

    key: str
    outcome: Outcome
    seq: int
    received_at: datetime
    problems: tuple[Problem, ...] = ()
    says: str = ""


@dataclass(frozen=True, slots=True)
class SetAside:
    """What an authenticated sender sent and could not be kept, with the reason; a person may put it right.

    `reason` is a word (`refused`, `conflict`), `raw` what was sent as text, `source` where in a file it stood
    (such as `row 12`). `received_at` is aware UTC. `number` is 0 until the store has given it one.
    """

    key: str
    sender: str
    door: str
    received_at: datetime
    reason: str
    problems: tuple[Problem, ...]
    raw: str
    source: str = ""
    number: int = 0

    @property
    def says(self) -> str:
        """Every problem in one line."""
        return "; ".join(str(problem) for problem in self.problems)
