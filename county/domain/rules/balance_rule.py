"""The rule for ballot accounting at the close."""

from collections.abc import Iterator

from county.domain.balance import expected_scanned
from county.domain.findings import Finding
from county.domain.rules.scene import Scene

_NOT_SCANNED = ("auxiliary", "provisional", "spoiled", "challenged")


def ballots_do_not_balance(scene: Scene) -> Iterator[Finding]:
    """At `balanced`: ballots scanned differ from delivered less left less not scanned, where all three were told.

    Scanned is the number told, or else the sum of the results printed, where every scanner has printed.
    """
    printed = {
        entry.device: count
        for entry in scene.steps("results-printed")
        if (count := entry.number("public_counter")) is not None
    }
    for entry in scene.steps("balanced"):
        delivered = entry.number("ballots_delivered")
        delivered = scene.expected.place.ballots_delivered if delivered is None else delivered
        left = entry.number("ballots_left")
        told = entry.number("public_counter")
        every = bool(printed) and printed.keys() >= set(scene.expected.scanners)
        scanned = told if told is not None else (sum(printed.values()) if every else None)
        if delivered is None or left is None or scanned is None or entry.device:
            continue
        expected = expected_scanned(delivered, left, sum(entry.number(name) or 0 for name in _NOT_SCANNED))
        if scanned != expected:
            yield scene.finding(
                "out-of-balance",
                entry,
                f"{scanned:,} ballots scanned, {expected:,} by the count of paper: {scanned - expected:+,}",
                expected=f"{expected:,}",
                found=f"{scanned:,}",
            )
