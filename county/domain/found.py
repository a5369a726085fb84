"""What a day raises now, and what it raised before a correction: a correction never hides that a case was."""

from collections.abc import Iterator
from dataclasses import replace

from county.domain.corrections import in_order_learned
from county.domain.entries import Entry
from county.domain.expected import Expected
from county.domain.findings import Finding
from county.domain.place_day import PlaceDay, fold
from county.domain.plan import Plan
from county.domain.rules import fact_findings
from county.domain.rules.scene import Scene

_Name = tuple[str, str, str]


def found_in(day: PlaceDay, expected: Expected, plan: Plan) -> list[Finding]:
    """Every finding of a place's day, those that a correction ended too, each learned when it first could be."""
    found = fact_findings(Scene(day, expected, plan))
    if not day.corrected:
        return found
    standing = {_name(finding) for finding in found}
    first: dict[_Name, Finding] = {}
    gone: dict[_Name, Finding] = {}
    for correction, before in _before_each_correction(day, expected):
        for finding in fact_findings(Scene(before, expected, plan)):
            name = _name(finding)
            first.setdefault(name, finding)
            if name not in standing:
                gone[name] = replace(finding, gone_at=correction.received_at, gone_says=_says(correction))
    return [_learned_first(finding, first) for finding in (*found, *gone.values())]


def _name(finding: Finding) -> _Name:
    return finding.exception, finding.device, finding.cause


def _before_each_correction(day: PlaceDay, expected: Expected) -> Iterator[tuple[Entry, PlaceDay]]:
    """Each correction in the order learned, with the day as it would stand without it and every later one."""
    corrections = in_order_learned(correction for each in day.corrected for correction in each.corrections)
    for number, correction in enumerate(corrections):
        later = {entry.key for entry in corrections[number:]}
        yield correction, fold(expected, (entry for entry in day.told if entry.key not in later))


def _learned_first(finding: Finding, first: dict[_Name, Finding]) -> Finding:
    """A corrected report is learned again; what it raised before, and raises still, was learned then."""
    earlier = first.get(_name(finding))
    if earlier is None or earlier.learned_at >= finding.learned_at:
        return finding
    return replace(finding, learned_at=earlier.learned_at, by=earlier.by)


def _says(correction: Entry) -> str:
    done = "withdrawn" if correction.fields.get("withdraw") else "put right"
    return f"{done} by {correction.by}"
