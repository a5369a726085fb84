"""Who is to be told of a case, when, and why: the plan's ladder applied to one case."""

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from county.domain.cases import Action, Case
from county.domain.milestones import Milestone, has_reached, reopenings
from county.domain.moments import whole_minutes
from county.domain.plan import Rung

PUNCTUAL = timedelta(minutes=2)
"""Later than this after it was due, a telling says that it is late and why."""


@dataclass(frozen=True, slots=True)
class Telling:
    """One rung of the ladder that has come due, or will: tell these roles of this case. Times are aware UTC.

    `key` is the same for the same case, opening and rung, however often and whenever it is asked for, so that a telling
    already in the ledger is not told again. `life` counts how often the case has been reopened. `learned_at` is when
    the office learned of the case, or that it was reopened, `weighed_at` when somebody gave it the effect it has.
    """

    key: str
    case: str
    life: int
    rung: Rung
    due_at: datetime
    tell: tuple[str, ...]
    learned_at: datetime
    weighed_at: datetime

    def late_by(self, told_at: datetime) -> timedelta:
        """How long after it was due it is told; nothing where it is on time."""
        late = told_at - self.due_at
        return late if late > PUNCTUAL else timedelta(0)

    def says(self, told_at: datetime) -> str:
        """Why these people are told; where it is late, how late and why: `stopped: not acknowledged after 5 min`."""
        late, reason = self.late_by(told_at), _reason(self.rung)
        return f"{reason}; told {whole_minutes(late)} min late: {self._cause()}" if late else reason

    def _cause(self) -> str:
        if self.learned_at > self.due_at + PUNCTUAL:
            return "the office learned of the case late"
        if self.weighed_at > self.due_at + PUNCTUAL:
            return "the case weighed less when it was due"
        # a further report may have made it worse, which a case does not keep the time of
        return "the board was not watching when it was due, or the case weighed less then"


def due(case: Case, ladder: Iterable[Rung], now: datetime) -> tuple[Telling, ...]:
    """Everybody who is to be told of this case by `now` and whose reason still stands, earliest due first.

    A rung for the case's effect is due `after` so long since the case was raised or last reopened, and its reason
    stands until the milestone it names is reached (a later milestone reaches it too). What came due while nobody
    watched, or before the case weighed so much, is still due, only late. Nothing is due for a case that has ended.
    """
    return tuple(telling for telling in _standing(case, ladder, now) if telling.due_at <= now)


def coming(case: Case, ladder: Iterable[Rung], now: datetime) -> tuple[Telling, ...]:
    """Who will be told later unless something happens first, earliest first: `counsel in 12 min unless on site`."""
    return tuple(telling for telling in _standing(case, ladder, now) if telling.due_at > now)


def _standing(case: Case, ladder: Iterable[Rung], now: datetime) -> list[Telling]:
    """Every rung whose reason stands now, each once."""
    if not case.state.open or case.raised_at > now:
        return []
    reopened = reopenings(case)
    begins = max([case.raised_at, *(step.at for step in reopened)])
    tellings = {
        key: Telling(
            key=key,
            case=case.case,
            life=len(reopened),
            rung=rung,
            due_at=begins + rung.after,
            tell=rung.tell,
            learned_at=max([case.learned_at, *(step.learned_at for step in reopened)]),
            weighed_at=max([begins, *(step.learned_at for step in case.steps if step.action == Action.EFFECT)]),
        )
        for rung in ladder
        if rung.effect is case.effect and not _reached(case, rung.unless)
        for key in [_key(case, len(reopened), rung)]
    }
    return sorted(tellings.values(), key=lambda telling: (telling.due_at, telling.key))


def _reached(case: Case, unless: str) -> bool:
    """Whether the milestone a rung names has been reached since the case was last opened.

    A word that is no milestone is never reached: told too often is safer than not at all.
    """
    return unless in tuple(Milestone) and has_reached(case, Milestone(unless))


def _key(case: Case, life: int, rung: Rung) -> str:
    """Of what makes the rung what it is, not of its place in the ladder, so that reordering it tells nobody again."""
    seconds = rung.after // timedelta(seconds=1)
    of = "\n".join([case.case, str(life), str(rung.effect), str(seconds), rung.unless, *sorted(rung.tell)])
    return f"tell-{hashlib.sha256(of.encode()).hexdigest()[:32]}"


def _reason(rung: Rung) -> str:
    if not rung.after:
        return f"{rung.effect}: at once"
    not_yet = {"acknowledged": "not acknowledged", "on-site": "nobody on site", "cleared": "not cleared"}
    return f"{rung.effect}: {not_yet.get(rung.unless, 'still open')} after {whole_minutes(rung.after)} min"
