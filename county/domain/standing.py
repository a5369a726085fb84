"""A place's standing: one word for whether people can vote there, from its day, its cases and the time."""

from collections.abc import Sequence
from datetime import datetime
from enum import StrEnum

from county.domain.cases import Case
from county.domain.effects import Effect
from county.domain.exception_kinds import SAME_TROUBLE
from county.domain.expected import Expected
from county.domain.place_day import PlaceDay
from county.domain.plan import Plan

_STOPPING = (Effect.DANGER, Effect.STOPPED)
# These are grave, but they do not of themselves keep voters at an open place from voting; a pattern is of many places,
# and each of its cases bears on its own.
_NOT_A_STOP = frozenset({"late-opening", "opened-early", "not-received", "item-missing", "custody-gap", SAME_TROUBLE})


class Standing(StrEnum):
    """How a place stands. Unheard is unknown, and unknown is never shown as good."""

    UNHEARD = "unheard"
    PREPARING = "preparing"
    READY = "ready"
    LATE = "late"
    OPEN = "open"
    IMPAIRED = "impaired"
    STOPPED = "stopped"
    CLOSED = "closed"
    RECEIVED = "received"


def standing(day: PlaceDay, cases: Sequence[Case], expected: Expected, plan: Plan, now: datetime) -> Standing:
    """The standing of a place at `now`."""
    if day.received_at:
        return Standing.RECEIVED
    if day.closed_at:
        return Standing.CLOSED
    if day.opened_at:
        return _while_open(day, cases, expected)
    if not day.heard:
        return Standing.UNHEARD
    if now >= expected.opens_at + plan.limits.late_grace:
        return Standing.LATE
    return Standing.READY if _ready(day, cases, expected) else Standing.PREPARING


def _while_open(day: PlaceDay, cases: Sequence[Case], expected: Expected) -> Standing:
    bearing = [case for case in cases if case.state.open and case.exception not in _NOT_A_STOP]
    stopped = [case for case in bearing if case.effect in _STOPPING]
    stopped_devices = {case.device for case in stopped if case.device}
    scanners = expected.scanners
    if any(not case.device for case in stopped) or (scanners and stopped_devices.issuperset(scanners)):
        return Standing.STOPPED
    if stopped or any(case.effect is Effect.IMPAIRED for case in bearing):
        return Standing.IMPAIRED
    return Standing.OPEN


def _ready(day: PlaceDay, cases: Sequence[Case], expected: Expected) -> bool:
    """Every step before opening is done and nothing that stops voting is open."""
    done = all(step.key in day.done for step in expected.steps if step.step.before_opening)
    own = (case for case in cases if case.state.open and not case.is_pattern)
    return done and not any(case.effect in _STOPPING for case in own)
