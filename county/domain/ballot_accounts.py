"""A place's ballots at the close: what was scanned against the count of paper, as far as both were told."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from county.domain.balance import expected_scanned
from county.domain.entries import Entry
from county.domain.expected import Expected

NOT_SCANNED = ("auxiliary", "provisional", "spoiled", "challenged")


@dataclass(frozen=True, slots=True)
class Account:
    """What was known after a report (`entry`), in ballots; None is what nobody told.

    `scanned` is the number told at `balanced`, or else the sum of the results printed, where every scanner has printed.
    `by_paper` is delivered less left less those not scanned; of these, one that was not told counts as none.
    """

    entry: Entry
    delivered: int | None = None
    left: int | None = None
    not_scanned: int = 0
    scanned: int | None = None

    @property
    def by_paper(self) -> int | None:
        if self.delivered is None or self.left is None:
            return None
        return expected_scanned(self.delivered, self.left, self.not_scanned)

    @property
    def difference(self) -> int | None:
        """Scanned less the count of paper; None while either is not known."""
        return None if self.scanned is None or self.by_paper is None else self.scanned - self.by_paper


def accounts(steps: Iterable[Entry], expected: Expected) -> Iterator[Account]:
    """The account after each report of printed results or of the balance; `steps` are in the order they happened."""
    printed: dict[str, int] = {}
    told: int | None = None
    delivered, left, not_scanned = expected.place.ballots_delivered, None, 0
    for entry in steps:
        if entry.text("step") not in ("results-printed", "balanced"):
            continue
        count = entry.number("public_counter")
        if entry.text("step") == "results-printed":
            printed |= {} if count is None else {entry.device: count}
        elif not entry.device:
            told, left = count, entry.number("ballots_left")
            said = entry.number("ballots_delivered")
            delivered = expected.place.ballots_delivered if said is None else said
            not_scanned = sum(entry.number(name) or 0 for name in NOT_SCANNED)
        every = bool(printed) and ("" in printed or printed.keys() >= set(expected.scanners))
        scanned = told if told is not None else printed.get("", sum(printed.values())) if every else None
        yield Account(entry, delivered, left, not_scanned, scanned)
