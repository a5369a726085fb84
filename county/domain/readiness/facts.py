"""What must be known to say whether the county is ready: all of it values, gathered elsewhere."""

from dataclasses import dataclass
from datetime import date, datetime

from county.domain.people import Role
from county.domain.plan import Plan
from county.domain.roster import Roster
from county.errors import Problem


@dataclass(frozen=True, slots=True)
class Rehearsed:
    """One rehearsal that was run to its end: when it was begun (aware UTC), how many places, and how the day went."""

    at: datetime
    places: int
    regime: str


@dataclass(frozen=True, slots=True)
class Colleague:
    """Somebody with an account, and when they last signed in (aware UTC); None where they never have."""

    name: str
    role: Role
    signed_in_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class Facts:
    """Everything the checks look at, as of today (a date in the county's zone).

    `keyed` are the places with a reporting key that works; `changed_at` is when roster or plan last changed;
    `trained` counts reports received while the plan said rehearsal, where it no longer does; `made_up` says that the
    ledger holds reports that nobody made. `cards_lead_here` says
    that the address on the cards is one that only this machine reaches.
    """

    roster: Roster
    plan: Plan
    today: date
    keyed: frozenset[str] = frozenset()
    colleagues: tuple[Colleague, ...] = ()
    rehearsals: tuple[Rehearsed, ...] = ()
    changed_at: datetime | None = None
    unreachable: tuple[Problem, ...] = ()
    exposed: tuple[Problem, ...] = ()
    file_differs: bool = False
    trained: int = 0
    made_up: bool = False
    real_clock: bool = True
    cards_lead_here: bool = False

    @property
    def last_rehearsal(self) -> Rehearsed | None:
        return max(self.rehearsals, key=lambda each: each.at, default=None)
