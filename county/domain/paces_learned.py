"""What an earlier election shows of how openings go: the pace of steps and places, hold-ups, hurry."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import fmean, median
from types import MappingProxyType

from county.domain.earlier_steps import EarlierStep
from county.domain.plan import Plan
from county.domain.step_paces import ARRIVAL_MINUTES, USUAL_SPREAD, HoldUps, StepPace, StepPaces, paces_of_plan

_ENOUGH = 8
"""Fewer places than these tell nothing of a step: a judgement."""
_LEAST_GAP = 0.5
"""Moments are told in whole minutes: two in one minute are reckoned half a minute apart."""
_ROUNDING = math.sqrt(2 / 12)
"""The sigma, in minutes, of the difference of two moments that are told in whole minutes."""
_SIGMAS, _MINUTES = 2.5, 10.0
"""A step that took more than so many sigmas and so many minutes longer than usual was held up: a judgement."""
_PRIOR_STEPS, _PRIOR_HOLD_UPS = 400, 8
"""How much the usual share and length of hold-ups count, in steps and hold-ups seen: a judgement."""
_SAME_PLACE = 0.5
"""How much of a place's pace it keeps from one election to the next: a judgement, because officers change."""
_CALM, _SHORT = 4, 0.2
"""Hurry is drawn towards none as if so many places, short of time by this logarithm, had not hurried: a judgement."""
_LEAST_LEFT, _MOST_HURRY = 0.3, 0.9
"""Who has less than this share of the usual time left gives up hurrying; nobody makes up more: judgements."""


@dataclass(frozen=True, slots=True)
class _Morning:
    """One place's morning: minutes from its own opening at which each step was done, in order, and the opening."""

    place: str
    done: Mapping[str, float]
    opened: float | None

    def gaps(self) -> dict[str, float]:
        """Minutes of each step since the latest of those before it; the first has none."""
        found, reached = {}, None
        for key, at in self.done.items():
            if reached is not None:
                found[key] = max(_LEAST_GAP, at - reached)
            reached = at if reached is None else max(reached, at)
        return found


def learned_paces(earlier: Sequence[EarlierStep], plan: Plan) -> StepPaces:
    """The paces that an earlier election shows; what it does not show is as the plan asks."""
    usual = paces_of_plan(plan)
    mornings = _mornings(earlier, tuple(usual.steps))
    gaps = [(morning.place, key, gap) for morning in mornings for key, gap in morning.gaps().items()]
    first = next(iter(usual.steps), "")
    arrivals = [morning.done[first] for morning in mornings if first in morning.done]
    steps = dict(usual.steps)
    arrival = usual.arrival
    if len(arrivals) >= _ENOUGH:
        arrival = median(arrivals) - ARRIVAL_MINUTES
        steps[first] = StepPace(ARRIVAL_MINUTES, _robust_sigma([(at - median(arrivals)) / 30 for at in arrivals], 0.05))
    for key in steps:
        told = [math.log(gap) for _, of, gap in gaps if of == key]
        if key != first and len(told) >= _ENOUGH:
            minutes = math.exp(median(told))
            steps[key] = StepPace(minutes, _robust_sigma(told, max(0.15, _ROUNDING / minutes)))
    held = [gap - steps[key].minutes for _, key, gap in gaps if _was_held_up(gap, steps[key])]
    places, spread = _places(gaps, steps)
    learned = replace(
        usual,
        steps=MappingProxyType(steps),
        arrival=arrival,
        places=MappingProxyType(places),
        spread=spread,
        hold_ups=_hold_ups(held, len(gaps)),
        declaring=_declaring(mornings, usual.declaring),
        election=earlier[-1].election,
    )
    return replace(learned, hurry=_hurry(mornings, learned))


def _mornings(earlier: Iterable[EarlierStep], order: Sequence[str]) -> list[_Morning]:
    done: dict[str, dict[str, float]] = {}
    for step in earlier:
        done.setdefault(step.place, {})[step.step] = step.minutes
    return [
        _Morning(place, {key: told[key] for key in order if key in told}, told.get("open"))
        for place, told in sorted(done.items())
    ]


def _robust_sigma(values: Sequence[float], least: float) -> float:
    """The sigma of the middle of the values, so that a few held up do not stretch it; never below `least`."""
    middle = median(values)
    return max(least, 1.4826 * median(abs(value - middle) for value in values))


def _was_held_up(gap: float, pace: StepPace) -> bool:
    return gap > pace.minutes * math.exp(_SIGMAS * pace.sigma) and gap > pace.minutes + _MINUTES


def _hold_ups(held: Sequence[float], steps: int) -> HoldUps:
    """The share and length of hold-ups, drawn towards the usual ones where few were seen."""
    usual = HoldUps()
    logs = [math.log(minutes) for minutes in held]
    weight = len(logs) + _PRIOR_HOLD_UPS
    middle = (sum(logs) + _PRIOR_HOLD_UPS * math.log(usual.minutes)) / weight
    square = (sum((log - middle) ** 2 for log in logs) + _PRIOR_HOLD_UPS * usual.sigma**2) / weight
    share = (len(held) + _PRIOR_STEPS * usual.share) / (steps + _PRIOR_STEPS)
    return HoldUps(share, math.exp(middle), math.sqrt(square))


def _places(gaps: Iterable[tuple[str, str, float]], steps: Mapping[str, StepPace]) -> tuple[dict[str, float], float]:
    """Each place's own pace as a log factor, drawn towards the county's, and the sigma of what is left of it."""
    off: dict[str, list[tuple[float, float]]] = {}
    for place, key, gap in gaps:
        pace = steps[key]
        if not _was_held_up(gap, pace):
            off.setdefault(place, []).append((math.log(gap / pace.minutes), pace.sigma))
    means = {place: fmean(value for value, _ in told) for place, told in off.items()}
    noise = {place: fmean(sigma**2 for _, sigma in told) / len(told) for place, told in off.items()}
    if len(means) < _ENOUGH:
        return {}, USUAL_SPREAD
    square = fmean(value**2 for value in means.values())
    between = max(0.05**2, square - fmean(noise.values()))
    kept = {place: _SAME_PLACE * value * between / (between + noise[place]) for place, value in means.items()}
    return kept, math.sqrt(between)


def _declaring(mornings: Iterable[_Morning], usual: StepPace) -> StepPace:
    """From all done to open, at places that were not done in time; the others waited for their hour."""
    told = [
        math.log(max(_LEAST_GAP, each.opened - max(each.done.values())))
        for each in mornings
        if each.opened is not None and each.done and max(each.done.values()) > 0
    ]
    return StepPace(math.exp(median(told)), _robust_sigma(told, 0.3)) if len(told) >= _ENOUGH else usual


def _hurry(mornings: Iterable[_Morning], paces: StepPaces) -> float:
    """How much of a shortage of time was made up: the slope of log(taken ÷ usual) against log(left ÷ usual).

    Of places that nothing held up; the others were late whatever they did.
    """
    products, squares = 0.0, _CALM * _SHORT**2
    for each in mornings:
        keys, gaps = tuple(each.done), each.gaps()
        if any(_was_held_up(gap, paces.steps[key]) for key, gap in gaps.items()):
            continue
        own = math.exp(paces.places.get(each.place, 0.0))
        for number, key in enumerate(keys[:-1]):
            usual = own * sum(paces.steps[k].minutes for k in keys[number + 1 :])
            left, taken = -each.done[key], sum(gaps[k] for k in keys[number + 1 :])
            if _LEAST_LEFT * usual < left < usual:
                products += math.log(left / usual) * math.log(taken / usual)
                squares += math.log(left / usual) ** 2
    return min(_MOST_HURRY, max(0.0, products / squares))
