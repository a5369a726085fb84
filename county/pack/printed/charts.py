"""What the charts draw: points in minutes and shares, worked out here and drawn by the page."""

import math
from collections.abc import Iterable
from datetime import datetime, timedelta

from county.domain.effects import Effect
from county.domain.milestones import Milestone
from county.domain.plan import Target
from county.domain.record.against_targets import TARGETS
from county.domain.response import Response, responses_by
from county.pack.record import Record

_STEPS = (5, 10, 15, 20, 30, 60, 120, 240)
_MOST_POINTS = 400


def response_chart(record: Record, milestone: Milestone, title: str) -> dict[str, object]:
    """The share of cases that have not reached a milestone against minutes, a curve an effect, targets as rules."""
    waited = responses_by(lambda case: case.effect.value, record.picture.cases(), milestone, record.as_of)
    by_effect = {effect: waited[effect.value] for effect in Effect if effect.value in waited}
    to = _horizon(by_effect.values())
    target = TARGETS.get(milestone)
    targets = {effect: target(record.plan.targets.get(effect, Target())) if target else None for effect in by_effect}
    return {
        "title": title,
        "alt": f"{title}: share of cases against minutes from raised, a curve an effect; the figures stand below.",
        "to": to,
        "marks": _marks(to),
        "below": f"minutes from raised to {milestone.value}",
        "rules": [{"at": at, "effect": effect.value} for effect, at in targets.items() if at is not None and at <= to],
        "curves": [
            {
                "effect": effect.value,
                "to": min(to, each.curve.longest or 0.0),
                "steps": [
                    [round(m, 2), round(share, 4)]
                    for m, share in _thinned(list(zip(each.curve.minutes, each.curve.unreached, strict=True)))
                    if m <= to
                ],
            }
            for effect, each in by_effect.items()
        ],
    }


def rise_chart(record: Record) -> dict[str, object]:
    """How many places were open against the clock, beside how many should have been by their own opening times."""
    opened = sorted(now.day.opened_at for now in record.places if now.day.opened_at)
    due = sorted(now.expected.opens_at for now in record.places)
    first = min([*opened[:1], *due[:1], record.as_of]).replace(minute=0, second=0, microsecond=0)
    last = max([*opened[-1:], *due[-1:], first + timedelta(hours=1)])
    to = _minutes(first, last) + 10
    most = max(1, len(record.places))
    hours = [first + timedelta(minutes=30 * n) for n in range(int(to // 30) + 1)]
    every = max(1, len(hours) // 10)
    return {
        "alt": f"Places open against the clock: {len(opened)} of {len(record.places)} were reported open in the end.",
        "from": 0,
        "to": to,
        "most": most,
        "levels": sorted({0, most // 4, most // 2, most * 3 // 4, most}),
        "marks": [
            {"at": _minutes(first, each), "says": f"{each.astimezone(record.zone):%H:%M}"} for each in hours[::every]
        ],
        "below": f"wall time, {record.plan.election.zone}",
        "lines": [
            {"effect": "record", "says": "should be open, by their own opening times", "steps": _counted(due, first)},
            {"effect": "", "says": "reported open", "steps": _counted(opened, first)},
        ],
    }


def _counted(moments: list[datetime], first: datetime) -> list[list[float]]:
    steps = [(_minutes(first, moment), float(n)) for n, moment in enumerate(moments, 1)]
    return [[round(m, 2), n] for m, n in _thinned(steps)]


def _thinned(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """So many points as can be told apart on paper; the last of each stretch, so that the end is true."""
    stretch = math.ceil(len(points) / _MOST_POINTS) or 1
    return [point for n, point in enumerate(points, 1) if n % stretch == 0 or n == len(points)]


def _minutes(first: datetime, moment: datetime) -> float:
    return (moment - first).total_seconds() / 60


def _horizon(waited: Iterable[Response]) -> int:
    """Minutes that show nine in ten of what was reached, rounded up to a whole step."""
    ends: list[float] = []
    for each in waited:
        minutes = each.curve.minutes
        ends += [minutes[math.ceil(0.9 * len(minutes)) - 1]] if minutes else []
    longest = max(ends, default=10.0)
    step = next((step for step in _STEPS if longest <= 6 * step), _STEPS[-1])
    return max(1, math.ceil(longest / step)) * step


def _marks(to: int) -> list[int]:
    step = next((step for step in _STEPS if to <= 6 * step), _STEPS[-1])
    return list(range(0, to + 1, step))
