"""Rules for counts through the day and at the close: counters, ballots, the auxiliary compartment, balance."""

from collections.abc import Callable, Iterator
from datetime import datetime
from itertools import pairwise

from county.domain.findings import Finding
from county.domain.read_together import TOGETHER, scanned_together
from county.domain.rules.scene import Scene

_A_FEW = 10


def counter_backwards(scene: Scene) -> Iterator[Finding]:
    """A public counter lower than one read before on the same device."""
    for device, readings in scene.counted.counters.items():
        for (_, before, _, _), (_, after, _, entry) in pairwise(readings):
            if after < before:
                says = f"{device or 'the place'} counted {after:,} after {before:,}"
                yield scene.finding(
                    "counter-backwards", entry, says, expected=f"at least {before:,}", found=f"{after:,}"
                )


def counter_jump(scene: Scene) -> Iterator[Finding]:
    """A public counter that rose faster than one scanner can count, by the plan's ballots per hour."""
    limit = scene.plan.limits.ballots_per_hour
    for device, readings in scene.counted.counters.items():
        scanners = 1 if device else max(1, len(scene.expected.scanners))
        for (earlier, before, _, _), (at, after, _, entry) in pairwise(readings):
            if after - before <= _A_FEW:
                continue
            hours = max((at - earlier).total_seconds(), 60) / 3600
            most = limit * scanners * hours + _A_FEW
            if after - before > most:
                says = f"{device or 'the place'} rose by {after - before:,} in {hours * 60:.0f} min"
                yield scene.finding(
                    "counter-jump", entry, says, expected=f"at most {most:,.0f}", found=f"{after - before:,}"
                )


def drift(scene: Scene) -> Iterator[Finding]:
    """Check-ins and ballots scanned that differ by more than the plan's tolerance: a signal, not a balance.

    Compared once check-ins and every scanner were told within a quarter of an hour, at the last of them, each once.
    """
    limit, scanners = scene.plan.limits.drift, frozenset(scene.expected.scanners)
    checked_in: tuple[datetime, int] | None = None
    read: dict[str, tuple[datetime, int]] = {}
    for entry in scene.day.counts if scene.counted.said("check_ins") else ():
        at = entry.happened_at
        if (number := entry.number("check_ins")) is not None:
            checked_in = at, number
        if (number := entry.number("public_counter")) is not None:
            read[entry.device] = at, number
        if checked_in is None or at - checked_in[0] > TOGETHER:
            continue
        scanned = scanned_together(read, at, scanners)
        if scanned is None:
            continue
        check_ins, apart = checked_in[1], checked_in[1] - scanned
        checked_in = None
        read.clear()
        if abs(apart) > limit:
            says = f"{check_ins:,} check-ins, {scanned:,} ballots scanned: {apart:+,}"
            yield scene.finding("drift", entry, says, device="", expected=f"within {limit}", found=f"{apart:+,}")


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
    said = scene.counted.said(name)
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
                f"{says}: {n:,}" if n else says,
                found=f"{n:,}",
                clears_at=min(right, default=None),
                clears_says=ended,
            )


def out_of_balance(scene: Scene) -> Iterator[Finding]:
    """At the close: a protective counter that did not rise by what the public counter shows."""
    opened = dict(scene.expected.protective)
    for entry in scene.steps_that_say("protective_counter"):
        step = entry.text("step")
        if step not in ("zero-report", "results-printed", "balanced"):
            continue
        protective, public = entry.number("protective_counter"), entry.number("public_counter")
        if step == "zero-report":
            opened |= {} if protective is None else {entry.device: protective}
            continue
        start = opened.get(entry.device)
        if protective is None or public is None or start is None or protective - start == public:
            continue
        says = f"{entry.device}: protective counter rose by {protective - start:,}, public counter shows {public:,}"
        yield scene.finding("out-of-balance", entry, says, expected=f"{public:,}", found=f"{protective - start:,}")
