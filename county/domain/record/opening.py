"""How a place's opening was told: by whom, by whose clock, when the office learned of it, and how it was put right."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from county.domain.entries import Entry
from county.domain.place_day import PlaceDay


@dataclass(frozen=True, slots=True)
class Opening:
    """A place's opening as it stands. Times are aware UTC.

    `report` is the report as it stands now and `told` as it was first told; its `stamp` says by whose clock.
    `learned_at` is when the office first heard of it, `corrections` what was said of it later.
    """

    opened_at: datetime
    learned_at: datetime
    report: Entry
    told: Entry
    corrections: tuple[Entry, ...] = ()

    @property
    def behind(self) -> timedelta:
        """How long after it was true the office learned of it; never negative."""
        return max(timedelta(0), self.learned_at - self.opened_at)


def opening(day: PlaceDay) -> Opening | None:
    """The opening of a place; None where it is not reported open."""
    opened_at = day.opened_at
    report = next((e for e in day.steps if e.text("step") == "open" and e.happened_at == opened_at), None)
    if opened_at is None or report is None:
        return None
    righted = next((each for each in day.corrected if each.told.key == report.key), None)
    told = righted.told if righted else report
    return Opening(opened_at, told.received_at, report, told, righted.corrections if righted else ())
