"""What a day raises now, and what it raised before a correction: a correction never hides that a case was."""

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime

from county.domain.entries import Entry, Kind
from county.domain.expected import Expected
from county.domain.findings import Finding
from county.domain.place_day import PlaceDay, fold
from county.domain.plan import Plan
from county.domain.rules import fact_findings
from county.domain.rules.scene import Scene

_Name = tuple[str, str, str]


@dataclass(frozen=True, slots=True)
class Remembered:
    """What was found before a correction, when so many other entries and so many corrections were known."""

    others: int
    corrections: int
    found: tuple[Finding, ...]


Memory = dict[str, Remembered]
"""What was found before each correction of one place, by its key; what is learned later does not change it."""


def found_in(scene: Scene, memory: Memory) -> list[Finding]:
    """Every finding of a place's day, those that a correction ended too, each learned when it first could be."""
    day, expected, plan = scene.day, scene.expected, scene.plan
    found = fact_findings(scene)
    if not day.corrected:
        return found
    standing = {_name(finding) for finding in found}
    first: dict[_Name, Finding] = {}
    gone: dict[_Name, Finding] = {}
    for correction, moment, before in _before_each_correction(day, expected, plan, memory):
        for finding in before:
            name = _name(finding)
            first.setdefault(name, finding)
            if name not in standing:
                gone[name] = replace(finding, gone_at=moment, gone_says=_says(correction))
    return [_learned_first(finding, first) for finding in (*found, *gone.values())]


def _name(finding: Finding) -> _Name:
    return finding.exception, finding.device, finding.cause


def _before_each_correction(
    day: PlaceDay, expected: Expected, plan: Plan, memory: Memory
) -> Iterator[tuple[Entry, datetime, tuple[Finding, ...]]]:
    """Each correction, the moment from which it held, and what had been found by then without it.

    A correction that arrives before its report holds from when the report arrives: first comes what the place said.
    """
    others = sorted((e for e in day.told if e.kind is not Kind.CORRECTION), key=lambda entry: entry.received_at)
    received = [entry.received_at for entry in others]
    held = sorted(
        ((max(c.received_at, each.told.received_at), c) for each in day.corrected for c in each.corrections),
        key=lambda pair: (pair[0], pair[1].received_at, pair[1].key),
    )
    corrections = [correction for _, correction in held]
    for number, (moment, correction) in enumerate(held):
        known = bisect_right(received, moment)
        before = memory.get(correction.key)
        if before is None or (before.others, before.corrections) != (known, number):
            then = fold(expected, [*others[:known], *corrections[:number]])
            before = Remembered(known, number, tuple(fact_findings(Scene(then, expected, plan))))
            # entries are only ever added, so as many known are the same ones
            memory[correction.key] = before
        yield correction, moment, before.found


def _learned_first(finding: Finding, first: dict[_Name, Finding]) -> Finding:
    """A corrected report is learned again; what it raised before, and raises still, was learned then."""
    earlier = first.get(_name(finding))
    if earlier is None or earlier.learned_at >= finding.learned_at:
        return finding
    return replace(finding, learned_at=earlier.learned_at, by=earlier.by)


def _says(correction: Entry) -> str:
    done = "withdrawn" if correction.fields.get("withdraw") else "put right"
    return f"{done} by {correction.by}"
