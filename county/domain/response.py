"""Response times: how long cases waited to be acknowledged, assigned, reached and cleared."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from county.domain.cases import Action, Case, State, troubles
from county.domain.milestones import Milestone, by_a_person, first_time
from county.domain.plan import Plan
from county.domain.roster import Roster
from county.domain.survival import (
    Curve,
    Outcome,
    Percentile,
    RestrictedMean,
    incidence,
    percentile,
    restricted_mean,
)


@dataclass(frozen=True, slots=True)
class Times:
    """Minutes waited and how each wait ended (see Outcome), and how many cases lack a time and so are not in it."""

    minutes: tuple[float, ...] = ()
    outcomes: tuple[Outcome, ...] = ()
    untimed: int = 0

    def ended(self, outcome: Outcome) -> int:
        """How many waits ended so."""
        return sum(each is outcome for each in self.outcomes)


@dataclass(frozen=True, slots=True)
class Response:
    """How soon a milestone was reached, over some cases: always with how many are open, ended otherwise, or untimed.

    `median` and `ninetieth` are by the nearest-rank rule over all cases with a time, those that ended otherwise
    counting as never reached. `mean` is the mean wait up to a horizon, a wait ending when the case was reached or
    ended otherwise; None where it is not known. Percentiles of parts must not be added up to one of the whole.
    """

    milestone: Milestone
    cases: int
    reached: int
    open: int
    ended_otherwise: int
    untimed: int
    median: Percentile
    ninetieth: Percentile
    mean: RestrictedMean | None
    curve: Curve

    def within(self, minutes: float) -> float | None:
        """The estimated share of cases reached within so many minutes; None where no wait has been seen so long."""
        if self.curve.longest is None or (minutes > self.curve.longest and self.open):
            return None
        return 1.0 - self.curve.at(minutes)


def times(cases: Iterable[Case], milestone: Milestone, now: datetime) -> Times:
    """Each case's wait in minutes from raised to the milestone, cases being folded as of `now` (aware UTC).

    A case still open is censored at `now`. One withdrawn, or cleared without ever needing the milestone, ended
    otherwise. One that went past the milestone without a time for it is counted as untimed and not guessed at. A
    pattern is left out: its cases count themselves.
    """
    minutes: list[float] = []
    outcomes: list[Outcome] = []
    untimed = 0
    for case in troubles(cases):
        ended_at, outcome = _end_of_wait(case, milestone, now)
        if ended_at is None:
            untimed += 1
            continue
        minutes.append(max(0.0, (ended_at - case.raised_at).total_seconds() / 60))
        outcomes.append(outcome)
    return Times(tuple(minutes), tuple(outcomes), untimed)


def response(cases: Iterable[Case], milestone: Milestone, now: datetime, horizon: float | None = None) -> Response:
    """How soon these cases reached the milestone; `horizon` in minutes for the mean, so that groups can be compared."""
    waited = times(cases, milestone, now)
    curve = incidence(waited.minutes, waited.outcomes)
    ends = [outcome is not Outcome.WAITING for outcome in waited.outcomes]
    return Response(
        milestone=milestone,
        cases=len(waited.minutes) + waited.untimed,
        reached=waited.ended(Outcome.REACHED),
        open=waited.ended(Outcome.WAITING),
        ended_otherwise=waited.ended(Outcome.ENDED_OTHERWISE),
        untimed=waited.untimed,
        median=percentile(curve, 0.5),
        ninetieth=percentile(curve, 0.9),
        mean=restricted_mean(waited.minutes, ends, horizon),
        curve=curve,
    )


def groupings(roster: Roster, plan: Plan) -> Mapping[str, Callable[[Case], str]]:
    """What response times can be told apart by; each gives a case's group, empty where it has none.

    The hour is the wall hour at the place when the case was raised, `05` to `23`.
    """

    def zone(case: Case) -> str:
        place = roster.place_by_id.get(case.place)
        return place.zone if place else ""

    def hour(case: Case) -> str:
        place = roster.place_by_id.get(case.place)
        time_zone = (place.time_zone if place else "") or plan.election.zone
        return f"{case.raised_at.astimezone(ZoneInfo(time_zone)):%H}"

    return {
        "effect": lambda case: str(case.effect),
        "kind": lambda case: case.exception,
        "zone": zone,
        "rover": lambda case: case.rover,
        "hour": hour,
    }


def responses_by(
    group: Callable[[Case], str],
    cases: Iterable[Case],
    milestone: Milestone,
    now: datetime,
    horizon: float | None = None,
) -> dict[str, Response]:
    """The response of each group (see `groupings`), groups in the order in which they first come up."""
    grouped: dict[str, list[Case]] = {}
    for case in troubles(cases):
        grouped.setdefault(group(case), []).append(case)
    return {name: response(members, milestone, now, horizon) for name, members in grouped.items()}


def _end_of_wait(case: Case, milestone: Milestone, now: datetime) -> tuple[datetime | None, Outcome]:
    """When the wait for the milestone ended or was last seen, and how; None for the time where it has none."""
    reached_at = first_time(case, milestone)
    if reached_at:
        return reached_at, Outcome.REACHED
    if any(first_time(case, later) for later in milestone.later_on_the_way):
        return None, Outcome.REACHED
    if case.state.open:
        return now, Outcome.WAITING
    return (None, Outcome.REACHED) if _somebody_went(case) else (case.ended_at, Outcome.ENDED_OTHERWISE)


def _somebody_went(case: Case) -> bool:
    """Whether a case without this time was cleared by people after a rover had been sent, so that the time is missing.

    What the facts cleared (the place opened) or a person cleared by telephone needed nobody to go.
    """
    cleared = [step for step in case.steps if step.action == Action.CLEAR]
    return case.state is State.CLEARED and bool(case.rover) and any(by_a_person(step) for step in cleared)
