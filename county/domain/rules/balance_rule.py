"""The rule for ballot accounting at the close."""

from collections.abc import Iterator

from county.domain.balance import expected_scanned
from county.domain.entries import Entry
from county.domain.findings import Finding
from county.domain.rules.scene import Scene

_NOT_SCANNED = ("auxiliary", "provisional", "spoiled", "challenged")


def ballots_do_not_balance(scene: Scene) -> Iterator[Finding]:
    """Ballots scanned differ from delivered less left less not scanned, where all three were told.

    Compared at `balanced`, and again when results are printed after it; once they agree the difference is cleared.
    """
    compared = list(_compared(scene))
    for number, (entry, scanned, by_paper) in enumerate(compared):
        if scanned == by_paper:
            continue
        agreed = (e.happened_at for e, s, p in compared[number:] if s == p and e.happened_at > entry.happened_at)
        yield scene.finding(
            "out-of-balance",
            entry,
            f"{scanned:,} ballots scanned, {by_paper:,} by the count of paper: {scanned - by_paper:+,}",
            device="",
            cause=f"{entry.key}:paper",
            expected=f"{by_paper:,}",
            found=f"{scanned:,}",
            clears_at=next(agreed, None),
            clears_says="the ballots were found to balance",
        )


def _compared(scene: Scene) -> Iterator[tuple[Entry, int, int]]:
    """Each time both sides were known: the report that made it so, ballots scanned, ballots by the count of paper.

    Scanned is the number told at `balanced`, or else the sum of the results printed, where every scanner has printed.
    """
    printed: dict[str, int] = {}
    told: int | None = None
    by_paper: int | None = None
    for entry in scene.steps("results-printed", "balanced"):
        count = entry.number("public_counter")
        if entry.text("step") == "results-printed":
            printed |= {} if count is None else {entry.device: count}
        elif not entry.device:
            told, by_paper = count, _by_paper(scene, entry)
        every = bool(printed) and ("" in printed or printed.keys() >= set(scene.expected.scanners))
        scanned = told if told is not None else printed.get("", sum(printed.values())) if every else None
        if scanned is not None and by_paper is not None:
            yield entry, scanned, by_paper


def _by_paper(scene: Scene, entry: Entry) -> int | None:
    delivered = entry.number("ballots_delivered")
    delivered = scene.expected.place.ballots_delivered if delivered is None else delivered
    left = entry.number("ballots_left")
    if delivered is None or left is None:
        return None
    return expected_scanned(delivered, left, sum(entry.number(name) or 0 for name in _NOT_SCANNED))
