"""How long each step before the opening takes: from an earlier election, or from the plan where there is none."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from itertools import pairwise
from types import MappingProxyType

from county.domain.earlier_steps import EarlierStep
from county.domain.plan import Plan, Step

LEAST_MINUTES = 1.0
"""Steps due at one time are done side by side; each is reckoned as so much more, at least: a judgement."""
ARRIVAL_MINUTES = 30.0
"""The first step is reckoned as begun so long before its usual time, because nothing comes before it: a judgement."""

USUAL_SPREAD = 0.2
"""How far places' paces lie apart, as a log-sigma, where no earlier election tells it: a judgement."""


@dataclass(frozen=True, slots=True)
class StepPace:
    """One step's usual length since the step before it: median in minutes, and the sigma of its logarithm.

    Without an earlier election the sigma is a judgement, no source.
    """

    minutes: float
    sigma: float = 0.4


@dataclass(frozen=True, slots=True)
class HoldUps:
    """How often one step is held up at a place, and for how long then: median in minutes and log-sigma.

    Judgements, no source, until an earlier election shows hold-ups: 1 place in 16 held up once in a morning of eight
    steps, as on a bad day; a median of 20 minutes.
    """

    share: float = 0.0075
    minutes: float = 20.0
    sigma: float = 0.8


@dataclass(frozen=True, slots=True)
class StepPaces:
    """What is known beforehand of how openings go.

    `steps` is each step's pace by key, the first one's counted from `arrival` minutes after the place's opening time.
    `places` is each place's own pace as the logarithm of a factor, and `spread` the sigma of what is left of it.
    `declaring` is the step from all done to open. `hurry`, 0 to 1, is how much of a shortage of time officers make up.
    `election` is what it was learned from, empty where from the plan alone.
    """

    steps: Mapping[str, StepPace]
    arrival: float
    places: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    spread: float = USUAL_SPREAD
    hold_ups: HoldUps = HoldUps()
    declaring: StepPace = StepPace(1.0, 0.5)
    hurry: float = 0.0
    election: str = ""


def steps_before_opening(plan: Plan) -> tuple[Step, ...]:
    """The steps before the opening in the order in which they are due; of one due time, in the plan's order."""
    return tuple(sorted((step for step in plan.steps if step.before_opening), key=lambda step: step.due))


def paces_of_plan(plan: Plan) -> StepPaces:
    """The paces that the plan's own due times ask for."""
    steps = steps_before_opening(plan)
    paces = {steps[0].key: StepPace(ARRIVAL_MINUTES, 0.25)} if steps else {}
    for before, step in pairwise(steps):
        paces[step.key] = StepPace(max(LEAST_MINUTES, (step.due - before.due).total_seconds() / 60))
    first = steps[0].due.total_seconds() / 60 if steps else 0.0
    return StepPaces(MappingProxyType(paces), first - ARRIVAL_MINUTES)


def paces_of(earlier: Iterable[EarlierStep], plan: Plan) -> StepPaces:
    """The paces an earlier election shows; of what it does not show, and without one, the plan's own."""
    # what is learned is told in the values of this file
    from county.domain.paces_learned import learned_paces

    told = tuple(earlier)
    return learned_paces(told, plan) if told else paces_of_plan(plan)
