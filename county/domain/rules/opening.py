"""Rules for a place's own hours, its officers and its room."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from county.domain.entries import REPORT_KINDS, Entry, Stamp
from county.domain.findings import Finding
from county.domain.moments import parse_moment, whole_minutes
from county.domain.rules.scene import Scene

_AN_HOUR = (timedelta(minutes=55), timedelta(minutes=65))
_AT_ONCE = ("endpoint", "text")


def opened_early(scene: Scene) -> Iterator[Finding]:
    """Polls declared open before the place's own opening time, past the plan's tolerance."""
    early = scene.expected.opens_at - scene.plan.limits.early_tolerance
    for entry in scene.steps("open"):
        if entry.happened_at < early:
            opened, opens = scene.clock(entry.happened_at), scene.clock(scene.expected.opens_at)
            yield scene.finding(
                "opened-early", entry, f"opened {opened}, its hours begin {opens}", expected=opens, found=opened
            )


def closed_early(scene: Scene) -> Iterator[Finding]:
    """Polls declared closed before the place's own closing time, past the plan's tolerance."""
    early = scene.expected.closes_at - scene.plan.limits.early_tolerance
    for entry in scene.steps("closed"):
        if entry.happened_at < early:
            closed, closes = scene.clock(entry.happened_at), scene.clock(scene.expected.closes_at)
            yield scene.finding(
                "closed-early", entry, f"closed {closed}, its hours end {closes}", expected=closes, found=closed
            )


def officers_short(scene: Scene) -> Iterator[Finding]:
    """Fewer officers present than the plan asks; a later report of enough clears it."""
    asked = scene.plan.limits.officers
    reports = [(e, e.number("officers_present")) for e in scene.steps_that_say("officers_present")]
    for entry, present in reports:
        if present is not None and present < asked:
            enough = (
                e.happened_at for e, n in reports if n is not None and n >= asked and e.happened_at > entry.happened_at
            )
            yield scene.finding(
                "officers-short",
                entry,
                f"{present} of {asked} officers present",
                expected=str(asked),
                found=str(present),
                clears_at=min(enough, default=None),
                clears_says="enough officers are present",
            )


def accessibility_barrier(scene: Scene) -> Iterator[Finding]:
    """A route or a door narrower than the limit; a later measure that is wide enough clears it."""
    for name, what, limit in (
        ("route_inches", "route", scene.plan.limits.route_inches),
        ("door_inches", "door", scene.plan.limits.door_inches),
    ):
        measures = [(e, e.number(name)) for e in scene.steps_that_say(name)]
        for entry, inches in measures:
            if inches is not None and inches < limit:
                wide = (
                    e.happened_at
                    for e, n in measures
                    if n is not None and n >= limit and e.happened_at > entry.happened_at
                )
                yield scene.finding(
                    "accessibility-barrier",
                    entry,
                    f"{what} is {inches} in wide, {limit} in asked",
                    cause=f"{entry.key}:{what}",
                    expected=f"{limit} in",
                    found=f"{inches} in",
                    clears_at=min(wide, default=None),
                    clears_says=f"the {what} was measured wide enough",
                )


def clock_off(scene: Scene) -> Iterator[Finding]:
    """A sender's clock that differs from the office's: by an hour, as if not changed, or otherwise ahead.

    Once for each sender. What a desk or a file tells an hour later is no sign of a clock.
    """
    seen: set[tuple[str, str]] = set()
    for entry in sorted((e for e in scene.day.told if clock_is_off(e)), key=lambda e: (e.received_at, e.key)):
        off = _told(entry) - entry.received_at
        exception = "clock-not-changed" if _is_an_hour(off) else "clock-ahead"
        if (exception, entry.sender) in seen:
            continue
        seen.add((exception, entry.sender))
        way = "ahead of the office's clock" if off > timedelta(0) else "behind the office's clock, or it was sent late"
        says = f"time told is {whole_minutes(abs(off))} min {way}"
        cause = f"clock:{entry.sender}"
        yield scene.finding(exception, entry, says, since=entry.received_at, cause=cause, device="")


def _told(entry: Entry) -> datetime:
    """The time as its sender told it."""
    told = parse_moment(entry.told_at) if entry.stamp is Stamp.CLOCK_AHEAD and entry.told_at else None
    return told or entry.happened_at


def clock_is_off(entry: Entry) -> bool:
    """Whether a report came from a sender whose clock differs from the office's."""
    if entry.stamp is Stamp.CLOCK_AHEAD:
        return entry.kind in REPORT_KINDS
    behind = entry.received_at - entry.happened_at
    return (
        _AN_HOUR[0] <= behind <= _AN_HOUR[1]
        and entry.stamp is Stamp.TOLD
        and entry.door in _AT_ONCE
        and entry.sender.startswith("place:")
        and entry.kind in REPORT_KINDS
    )


def _is_an_hour(off: timedelta) -> bool:
    return _AN_HOUR[0] <= abs(off) <= _AN_HOUR[1]
