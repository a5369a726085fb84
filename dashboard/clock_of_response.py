"""A case against the county's own targets: what is waited for, since when, and for how long it may take."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from county.domain.cases import Case, State
from county.domain.plan import Plan, Target

ROOM = 1.6
"""A bar is this many targets long, so that the mark of the target stands well inside it."""


@dataclass(frozen=True, slots=True)
class Waiting:
    """How long a case has run since it was raised, and the target that counts now; None where the county set none."""

    elapsed: timedelta
    target: timedelta | None

    @property
    def over(self) -> bool:
        """Whether the target has passed."""
        return self.target is not None and self.elapsed > self.target

    @property
    def share(self) -> float:
        """How much of the bar is filled, 0 to 1; without a target the bar is an hour long."""
        whole = (self.target or timedelta(hours=1)) * ROOM
        return min(1.0, self.elapsed / whole) if whole else 1.0

    @property
    def mark(self) -> float | None:
        """Where on the bar the target stands."""
        return 1 / ROOM if self.target else None


def waiting(case: Case, plan: Plan, now: datetime) -> Waiting:
    """The response clock of a case at `now`; it has stopped where the case has ended."""
    target = plan.targets.get(case.effect, Target())
    # nobody goes to a pattern, so once somebody has it only its end is waited for
    goes = not case.is_pattern or case.state is State.RAISED
    minutes = target_minutes(target, case.state) if goes else target.clear
    until = case.ended_at or now
    elapsed = max(timedelta(0), until - case.raised_at)
    return Waiting(elapsed, timedelta(minutes=minutes) if minutes is not None else None)


def target_minutes(target: Target, state: State) -> int | None:
    """The target for what is waited for in this state: somebody to take it, somebody on site, its end."""
    if state is State.RAISED:
        return target.acknowledge
    if state in (State.ACKNOWLEDGED, State.ASSIGNED, State.UNDER_WAY):
        return target.on_site if target.on_site is not None else target.clear
    return target.clear
