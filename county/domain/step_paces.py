"""How long each step before the opening takes: from an earlier election, or from the plan where there is none."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from itertools import pairwise
from types import MappingProxyType

from county.domain.earlier_steps import EarlierStep
from county.domain.plan import Plan, Step

SIGMA = 0.4
"""Log-sigma of a step where no earlier election tells it: a judgement, no source."""
LEAST_MINUTES = 2.0
"""Steps with one due time still follow each other; none is reckoned shorter by the plan: a judgement."""


@dataclass(frozen=True, slots=True)
class StepPace:
    """One step's usual length, counted from the step before it: median in minutes, and the sigma of its logarithm."""

    minutes: float
    sigma: float = SIGMA


@dataclass(frozen=True, slots=True)
class StepPaces:
    """Each step's pace by key, in the order in which the steps are due; `places`: each place's own, as a log factor."""

    steps: Mapping[str, StepPace]
    places: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))


def steps_before_opening(plan: Plan) -> tuple[Step, ...]:
    """The steps before the opening in the order in which they are due; of one due time, in the plan's order."""
    return tuple(sorted((step for step in plan.steps if step.before_opening), key=lambda step: step.due))


def paces_of(earlier: Iterable[EarlierStep], plan: Plan) -> StepPaces:
    """The paces an earlier election shows; of what it does not show, and without one, the plan's own gaps."""
    steps = steps_before_opening(plan)
    gaps = {
        step.key: max(LEAST_MINUTES, (step.due - before.due).total_seconds() / 60) for before, step in pairwise(steps)
    }
    return StepPaces(MappingProxyType({s.key: StepPace(gaps.get(s.key, LEAST_MINUTES)) for s in steps}))
