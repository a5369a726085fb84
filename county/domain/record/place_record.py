"""One place's record: every entry in order, what was put right beside what replaced it, nothing left out."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta

from county.domain.entries import REPORT_KINDS, Entry, Kind
from county.domain.place_day import PlaceDay


@dataclass(frozen=True, slots=True)
class Line:
    """One entry of a place's record.

    `behind` is how long after it happened the office learned it. `struck` where it does not stand as told: `stands` is
    what stands in its place (None: withdrawn) and `corrections` say who put it right, in the order learned. `corrects`
    is the report that a correction speaks of, None for other entries and where there is no such report.
    """

    entry: Entry
    behind: timedelta
    struck: bool = False
    stands: Entry | None = None
    corrections: tuple[Entry, ...] = ()
    corrects: Entry | None = None

    @property
    def is_report(self) -> bool:
        """Whether it came from outside, rather than being what the office did or noticed."""
        return self.entry.kind in REPORT_KINDS


def lines(day: PlaceDay) -> tuple[Line, ...]:
    """Every entry of the place in the order it happened as first told; of one moment, in the order learned."""
    return tuple(sorted(_lines(day), key=lambda line: (line.entry.happened_at, line.entry.received_at, line.entry.seq)))


def _lines(day: PlaceDay) -> Iterator[Line]:
    righted = {each.told.key: each for each in day.corrected}
    by_key = {entry.key: entry for entry in day.told}
    for entry in day.told:
        behind = max(timedelta(0), entry.received_at - entry.happened_at)
        put_right = righted.get(entry.key)
        if put_right:
            struck = put_right.stands is None or _says(put_right.stands) != _says(entry)
            yield Line(entry, behind, struck, put_right.stands, put_right.corrections)
        elif entry.kind is Kind.CORRECTION:
            yield Line(entry, behind, corrects=by_key.get(entry.text("corrects")))
        else:
            yield Line(entry, behind)


def _says(entry: Entry) -> tuple[object, ...]:
    return entry.happened_at, dict(entry.fields)
