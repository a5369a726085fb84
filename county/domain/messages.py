"""What is sent: notices that wait to be sent, gathered to messages of one or of a burst to one person."""

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

AT_ONCE = 3
"""So many messages of one kind go to a person within a burst's time; what comes then is gathered."""


@dataclass(frozen=True, slots=True)
class Waiting:
    """One notice owed, in the words of that moment. `number` is that of the ledger's fact, times are aware UTC.

    `title` and `body` stand where it is sent alone, `line` where it is one of many. `kind` is the kind of trouble.
    """

    notice: str
    number: int
    case: str
    place: str
    person: str
    role: str
    channel: str
    kind: str
    danger: bool
    due_at: datetime
    owed_at: datetime
    title: str
    body: str
    line: str


@dataclass(frozen=True, slots=True)
class Message:
    """What one person is sent in one go; `number` is that of its first notice, `tries` how often it was tried."""

    message: str
    number: int
    person: str
    kind: str
    title: str
    body: str
    tries: int = 0


@dataclass(frozen=True, slots=True)
class Undelivered:
    """A notice given up for good: `why` is for the office's eyes, `failed_at` by the real clock (aware UTC)."""

    notice: str
    case: str
    place: str
    person: str
    role: str
    channel: str
    owed_at: datetime
    failed_at: datetime
    why: str


def message_id(gathered: Sequence[Waiting]) -> str:
    """A message's name: its notice's where it is one, else one that the same notices always make."""
    if len(gathered) == 1:
        return gathered[0].notice
    names = "\n".join(sorted(each.notice for each in gathered))
    return hashlib.sha256(names.encode()).hexdigest()[:12]


def gathered(
    waiting: Iterable[Waiting],
    made: Mapping[tuple[str, str], Sequence[datetime]],
    now: datetime,
    burst: timedelta,
) -> list[list[Waiting]]:
    """What is to be sent now, each list as one message: what waits for one person about one kind of trouble.

    `made` are the moments at which messages were made, by person and kind. After AT_ONCE of them within `burst` the
    next wait until the first of those is so long ago; notices of danger do not wait.
    """
    groups: dict[tuple[str, str], list[Waiting]] = {}
    for each in sorted(waiting, key=lambda each: each.number):
        groups.setdefault((each.person, each.kind), []).append(each)

    def may_go(group: tuple[str, str]) -> bool:
        recent = [moment for moment in made.get(group, ()) if now - moment < burst]
        return len(recent) < AT_ONCE or any(each.danger for each in groups[group])

    return [group for name, group in groups.items() if may_go(name)]
