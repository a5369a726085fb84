"""Places' days in volumes of their own, where there are too many for the report."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass

from county.domain.picture import PlaceNow
from county.pack.about import About
from county.pack.printed.place_day import place_day
from county.pack.printed.typeset import typeset
from county.pack.record import Record

A_VOLUME = 100
"""So many places in a volume: a few hundred pages, and some hundred megabytes of memory while it is typeset."""


def volume_name(number: int) -> str:
    """The file of a volume, counted from 1."""
    return f"place_days_{number}.pdf"


def volumes(days: Sequence[PlaceNow]) -> list[Sequence[PlaceNow]]:
    """These places, so many a volume."""
    return [days[start : start + A_VOLUME] for start in range(0, len(days), A_VOLUME)]


@dataclass(frozen=True, slots=True)
class Volume:
    """A volume's file name, the PDF, and the page on which each of its places' days begins."""

    name: str
    pdf: bytes
    begins: Mapping[str, int]


def volume_pdfs(record: Record, about: About, days: Sequence[PlaceNow]) -> Iterator[Volume]:
    """Each volume, typeset when it is asked for."""
    every = volumes(days)
    for number, places in enumerate(every, 1):
        told = {
            "about": asdict(about),
            "title": f"Each place's day, volume {number} of {len(every)}",
            "says": f"{places[0].place.place} to {places[-1].place.place}. How to read it: report.pdf, first pages.",
            "places": [place_day(record, now) for now in places],
        }
        made = typeset("place_days", told)
        yield Volume(volume_name(number), made.pdf, made.begins)
