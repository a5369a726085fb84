"""Rules for counts through the day and at the close: counters, ballots, the auxiliary compartment, balance."""

from collections.abc import Callable, Iterator
from datetime import timedelta
from itertools import pairwise

from county.domain.entries import Entry
from county.domain.findings import Finding
from county.domain.rules.scene import Scene

_TOGETHER = timedelta(minutes=15)


def _readings(scene: Scene) -> dict[str, list[tuple[Entry, int]]]:
    """Public counters by device, in the order they were read; a count without a device is the place's own total."""
    readings: dict[str, list[tuple[Entry, int]]] = {}
    for entry in sorted((*scene.day.steps, *scene.day.counts), key=lambda e: (e.happened_at, e.key)):
        count = entry.number("public_counter")
        if count is not None and not (entry.kind == "step" and not entry.device):
            readings.setdefault(entry.device, []).append((entry, count))
    return readings


def counter_backwards(scene: Scene) -> Iterator[Finding]:
    """A public counter lower than one read before on the same device."""
    for device, readings in _readings(scene).items():
        for (_, before), (entry, after) in pairwise(readings):
            if after < before:
                says = f"{device or 'the place'} counted {after:,} after {before:,}"
                yield scene.finding(
                    "counter-backwards", entry, says, expected=f"at least {before:,}", found=f"{after:,}"
                )


def counter_jump(scene: Scene) -> Iterator[Finding]:
    """A public counter that rose faster than one scanner can count, by the plan's ballots per hour."""
    limit = scene.plan.limits.ballots_per_hour
    for device, readings in _readings(scene).items():
        scanners = 1 if device else max(1, len(scene.expected.scanners))
        for (earlier, before), (entry, after) in pairwise(readings):
            hours = max((entry.happened_at - earlier.happened_at).total_seconds(), 60) / 3600
            most = limit * scanners * hours + 10
            if after - before > most:
                says = f"{device or 'the place'} rose by {after - before:,} in {hours * 60:.0f} min"
                yield scene.finding(
                    "counter-jump", entry, says, expected=f"at most {most:,.0f}", found=f"{after - before:,}"
                )


def drift(scene: Scene) -> Iterator[Finding]:
    """Check-ins and ballots scanned that differ by more than the plan's tolerance: a signal, not a balance."""
    limit = scene.plan.limits.drift
    readings = _readings(scene)
    for entry in scene.day.counts:
        check_ins = entry.number("check_ins")
        scanned = _scanned_at(entry, readings, scene.expected.scanners) if check_ins is not None else None
        if check_ins is None or scanned is None or abs(check_ins - scanned) <= limit:
            continue
        says = f"{check_ins:,} check-ins, {scanned:,} ballots scanned: {check_ins - scanned:+,}"
        yield scene.finding(
            "drift", entry, says, device="", expected=f"within {limit}", found=f"{check_ins - scanned:+,}"
        )


def _scanned_at(entry: Entry, readings: dict[str, list[tuple[Entry, int]]], scanners: tuple[str, ...]) -> int | None:
    """Ballots scanned at the place about the time of a count; None where a scanner was not read about then."""
    own = entry.number("public_counter")
    if own is not None and (not entry.device or scanners == (entry.device,)):
        return own
    total = 0
    for device in scanners:
        near = [(abs(e.happened_at - entry.happened_at), n) for e, n in readings.get(device, ())]
        gap, count = min(near, default=(_TOGETHER * 2, 0))
        if gap > _TOGETHER:
            return None
        total += count
    return total if scanners else None


def ballots_out(scene: Scene) -> Iterator[Finding]:
    """A count of no ballots left; a later count of some clears it."""
    yield from _until(
        scene, "ballots-out", "ballots_left", lambda n: n == 0, "no ballots left", "ballots are there again"
    )


def auxiliary_in_use(scene: Scene) -> Iterator[Finding]:
    """Ballots waiting unscanned in the auxiliary compartment; a later count of none clears it."""
    yield from _until(
        scene,
        "auxiliary-in-use",
        "auxiliary",
        lambda n: n > 0,
        "ballots in the auxiliary compartment",
        "it is empty again",
    )


def _until(
    scene: Scene, exception: str, name: str, wrong: Callable[[int], bool], says: str, ended: str
) -> Iterator[Finding]:
    """Counts of one field that are wrong, each cleared by the next count of that field on that device that is not."""
    said = [(entry, n) for entry in scene.day.counts if (n := entry.number(name)) is not None]
    for entry, n in said:
        if wrong(n):
            right = (
                e.happened_at
                for e, later in said
                if e.device == entry.device and e.happened_at > entry.happened_at and not wrong(later)
            )
            yield scene.finding(
                exception,
                entry,
                f"{n:,} {says}" if n else says,
                found=f"{n:,}",
                clears_at=min(right, default=None),
                clears_says=ended,
            )


def out_of_balance(scene: Scene) -> Iterator[Finding]:
    """At the close: a protective counter that did not rise by what the public counter shows."""
    opened = {e.device: n for e in scene.steps("zero-report") if (n := e.number("protective_counter")) is not None}
    for entry in scene.steps("results-printed", "balanced"):
        protective, public = entry.number("protective_counter"), entry.number("public_counter")
        start = opened.get(entry.device, scene.expected.protective.get(entry.device))
        if protective is None or public is None or start is None or protective - start == public:
            continue
        says = f"{entry.device}: protective counter rose by {protective - start:,}, public counter shows {public:,}"
        yield scene.finding("out-of-balance", entry, says, expected=f"{public:,}", found=f"{protective - start:,}")
