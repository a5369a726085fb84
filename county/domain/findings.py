"""A finding: one fact at one place that raises an exception, with what was expected and what was found."""

from dataclasses import dataclass
from datetime import datetime

from county.domain.effects import Effect


@dataclass(frozen=True, slots=True)
class Finding:
    """What a rule found. `cause` names the fact (a report's key, or the clock's own), so one fact is found once.

    `since` is when it became true, `learned_at` when the office could know it (aware UTC). `clears_at` is when the
    facts themselves ended it, with `clears_says` in words; `gone_says` says why the fact no longer stands. If it is a
    pattern, `of` is the kind of trouble that many places have, `links` the cases.
    """

    exception: str
    effect: Effect
    since: datetime
    learned_at: datetime
    cause: str
    by: str
    says: str
    device: str = ""
    expected: str = ""
    found: str = ""
    clears_at: datetime | None = None
    clears_says: str = ""
    gone_at: datetime | None = None
    gone_says: str = ""
    of: str = ""
    links: tuple[str, ...] = ()
