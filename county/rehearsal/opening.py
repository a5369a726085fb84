"""How one place's opening goes on a made-up day: each step on each device, to the minute, and the opening itself."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from random import Random

from county.domain.expected import Expected, ExpectedStep
from county.rehearsal.lateness import Delay
from county.rehearsal.sent import lognormal, minutes, whole_minute

OPEN = "open"


@dataclass(frozen=True, slots=True)
class Done:
    """One step done at a place, on a device where it is a device's, at one seal's position where it is a seal's."""

    step: str
    at: datetime
    device: str = ""
    position: str = ""


@dataclass(frozen=True, slots=True)
class Opening:
    """One place's way to its opening: what was done when, and, if it was held up, from when (aware UTC)."""

    done: tuple[Done, ...]
    opened_at: datetime
    held_up_from: datetime | None
    went_on_at: datetime | None


def opening(expected: Expected, delay: Delay | None, rng: Random) -> Opening:
    """Lognormal steps one after another, begun a little ahead of the plan; a delay holds up its step and all behind it.

    A place without a delay is ready in time and opens at its own opening time to the minute.
    """
    steps = sorted((s for s in expected.steps if s.step.before_opening), key=lambda step: step.due_at)
    opened_at = expected.opens_at + minutes(delay.minutes if delay else 0)
    if not steps:
        return Opening((Done(OPEN, opened_at),), opened_at, None, None)
    ends = _in_time(_ends(steps, rng), expected.opens_at - minutes(rng.uniform(1.0, 5.0)))
    held = went_on = None
    if delay:
        at = next((i for i, step in enumerate(steps) if step.key == delay.cause.step), 0)
        held = ends[at - 1] if at else ends[0] - minutes(5)
        shift = opened_at - minutes(1.5) - ends[-1]
        went_on = held + shift
        ends = [*ends[:at], *(end + shift for end in ends[at:])]
    begin = ends[0] - minutes(4)
    done: list[Done] = []
    for step, end in zip(steps, ends, strict=True):
        begun = max(begin, went_on) if went_on and end > went_on else begin
        done.extend(_each(step, begun, end, expected))
        begin = end
    done.append(Done(OPEN, opened_at))
    return Opening(tuple(done), opened_at, held, went_on)


def _ends(steps: list[ExpectedStep], rng: Random) -> list[datetime]:
    """When each step would end if nothing pressed: the plan's own gaps, stretched and shrunk."""
    ends = [steps[0].due_at - minutes(rng.uniform(4.0, 14.0))]
    for before, step in pairwise(steps):
        planned = max(2.0, (step.due_at - before.due_at).total_seconds() / 60)
        ends.append(ends[-1] + minutes(lognormal(rng, planned, 0.3)))
    return ends


def _in_time(ends: list[datetime], latest: datetime) -> list[datetime]:
    """The same steps done faster where they would have ended after `latest`."""
    first, last = ends[0], ends[-1]
    if last <= latest or last == first:
        return ends
    pressed = max(0.0, (latest - first) / (last - first))
    return [first + (end - first) * pressed for end in ends]


def _each(step: ExpectedStep, begun: datetime, end: datetime, expected: Expected) -> Iterator[Done]:
    """The step's reports: one for the place, or one for each device, and for each seal on it."""
    parts = [
        (device, position)
        for device in step.devices or ("",)
        for position in (expected.seals.get(device, {}) if step.key == "seals-checked" else ("",)) or ("",)
    ]
    for number, (device, position) in enumerate(parts, start=1):
        yield Done(step.key, whole_minute(begun + (end - begun) * number / len(parts)), device, position)
