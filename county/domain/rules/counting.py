"""Rules for counts through the day and at the close: counters, ballots, the auxiliary compartment, balance."""

from collections.abc import Callable, Iterator, Mapping
from datetime import datetime, timedelta
from itertools import pairwise

from county.domain.entries import Entry
from county.domain.findings import Finding
from county.domain.rules.scene import Scene

_TOGETHER = timedelta(minutes=15)
_CHECK_INS = "check-ins"


def _readings(scene: Scene) -> dict[str, list[tuple[Entry, int]]]:
    """Public counters by device, in the order they were read; a count without a device is the place's own total.

    Of two read at the same moment the lower is the earlier.
    """
    readings: dict[str, list[tuple[Entry, int]]] = {}
    for entry in (*scene.day.steps, *scene.day.counts):
        count = entry.number("public_counter")
        if count is not None and not (entry.kind == "step" and not entry.device):
            readings.setdefault(entry.device, []).append((entry, count))
    for of_device in readings.values():
        of_device.sort(key=lambda reading: (reading[0].happened_at, reading[1], reading[0].key))
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
    """Check-ins and ballots scanned that differ by more than the plan's tolerance: a signal, not a balance.

    Compared once check-ins and every scanner were told within a quarter of an hour, at the last of them, each once.
    """
    limit, scanners = scene.plan.limits.drift, scene.expected.scanners
    told: dict[str, tuple[datetime, int]] = {}
    for entry in scene.day.counts:
        _take_down(entry, told)
        if _CHECK_INS not in told:
            continue
        fresh = {name: n for name, (at, n) in told.items() if entry.happened_at - at <= _TOGETHER}
        scanned = _scanned(fresh, scanners)
        if _CHECK_INS not in fresh or scanned is None:
            continue
        told.clear()
        apart = fresh[_CHECK_INS] - scanned
        if abs(apart) > limit:
            says = f"{fresh[_CHECK_INS]:,} check-ins, {scanned:,} ballots scanned: {apart:+,}"
            yield scene.finding("drift", entry, says, device="", expected=f"within {limit}", found=f"{apart:+,}")


def _take_down(entry: Entry, told: dict[str, tuple[datetime, int]]) -> None:
    """Take in the check-ins and the device's public counter of one count; no device is the place's own total."""
    check_ins, counted = entry.number("check_ins"), entry.number("public_counter")
    if check_ins is not None:
        told[_CHECK_INS] = entry.happened_at, check_ins
    if counted is not None:
        told[entry.device] = entry.happened_at, counted


def _scanned(told: Mapping[str, int], scanners: tuple[str, ...]) -> int | None:
    """Ballots scanned at the place: its own total where told, else all its scanners; None where one is missing."""
    if "" in told:
        return told[""]
    return sum(told[device] for device in scanners) if scanners and told.keys() >= set(scanners) else None


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
                f"{says}: {n:,}" if n else says,
                found=f"{n:,}",
                clears_at=min(right, default=None),
                clears_says=ended,
            )


def out_of_balance(scene: Scene) -> Iterator[Finding]:
    """At the close: a protective counter that did not rise by what the public counter shows."""
    opened = dict(scene.expected.protective)
    for entry in scene.steps("zero-report", "results-printed", "balanced"):
        protective, public = entry.number("protective_counter"), entry.number("public_counter")
        if entry.text("step") == "zero-report":
            opened |= {} if protective is None else {entry.device: protective}
            continue
        start = opened.get(entry.device)
        if protective is None or public is None or start is None or protective - start == public:
            continue
        says = f"{entry.device}: protective counter rose by {protective - start:,}, public counter shows {public:,}"
        yield scene.finding("out-of-balance", entry, says, expected=f"{public:,}", found=f"{protective - start:,}")
