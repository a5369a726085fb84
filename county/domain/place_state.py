"""One place folded: what was expected, its day, its cases, who was told. No time of asking bears on it."""

from collections.abc import Iterable
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from county.domain.ballots_left import Supply
from county.domain.case_lives import cases_of
from county.domain.cases import Case
from county.domain.entries import Entry
from county.domain.expected import Expected
from county.domain.findings import Finding
from county.domain.found import Memory, found_in
from county.domain.lines import Wait
from county.domain.notices import Notice, notices_of, with_told
from county.domain.place_day import PlaceDay, fold
from county.domain.plan import Plan
from county.domain.rules.scene import Scene


@dataclass(frozen=True, slots=True)
class PlaceState:
    """What was expected of a place, its day as reported, its cases worst first, and the notices of them.

    `wait` is what the last count of its line says, `supply` what the last count says of its ballots; None before one.
    `found` is what its cases were made of.
    """

    expected: Expected
    day: PlaceDay
    cases: tuple[Case, ...]
    notices: tuple[Notice, ...] = ()
    wait: Wait | None = None
    supply: Supply | None = None
    found: tuple[Finding, ...] = ()


def open_troubles(cases: Iterable[Case]) -> tuple[Case, ...]:
    """A place's own open troubles; a pattern that began there is one of the county's, not of the place."""
    return tuple(case for case in cases if case.state.open and not case.is_pattern)


def state_of(
    expected: Expected, told: Iterable[Entry], plan: Plan, memory: Memory, *, heard_by_happening: bool = False
) -> PlaceState:
    """One place's entries folded, in whatever order; `memory` is kept from one fold of them to the next, or empty."""
    day = fold(expected, told, heard_by_happening=heard_by_happening)
    scene = Scene(day, expected, plan)
    findings = found_in(scene, memory)
    cases = cases_of(day.place, findings, day.actions, plan.kind, expected.device_types)
    notices: tuple[Notice, ...] = ()
    if day.notices:
        notices = notices_of(day.notices)
        cases = with_told(cases, notices, ZoneInfo(plan.election.zone))
    wait = scene.waits[-1] if scene.waits else None
    return PlaceState(expected, day, cases, notices, wait, scene.supplies.last, tuple(findings))
