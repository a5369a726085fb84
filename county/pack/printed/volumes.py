"""Places' days in volumes of their own, where there are too many for the report: every place, in the roster's order.

Those worth the paper come first in each volume, minute by minute; after them the others, in short.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass

from county.domain.picture import PlaceNow
from county.pack.about import About
from county.pack.printed.place_day import day_in_short, place_day
from county.pack.printed.typeset import typeset
from county.pack.record import A_VOLUME, Record


def volume_name(number: int) -> str:
    """The file of a volume, counted from 1."""
    return f"place_days_{number}.pdf"


def in_volume(file: str, page: int) -> str:
    """A page of a volume as an index names it: `3: 41`."""
    return f"{file.removeprefix('place_days_').removesuffix('.pdf')}:\u00a0{page}"


def volumes(places: Sequence[PlaceNow]) -> list[Sequence[PlaceNow]]:
    """These places, so many a volume."""
    return [places[start : start + A_VOLUME] for start in range(0, len(places), A_VOLUME)]


@dataclass(frozen=True, slots=True)
class Volume:
    """A volume's file name, the PDF, and the page on which each of its places' days begins."""

    name: str
    pdf: bytes
    begins: Mapping[str, int]


def volume_pdfs(record: Record, about: About, in_full: Collection[str]) -> Iterator[Volume]:
    """Each volume, typeset when it is asked for; `in_full` are the places whose day is printed minute by minute."""
    every = volumes(record.places)
    for number, places in enumerate(every, 1):
        told = {
            "about": asdict(about),
            "title": f"Each place's day, volume {number} of {len(every)}",
            "says": (
                f"{places[0].place.place} to {places[-1].place.place}. Those where people were in danger or voting was "
                "stopped, that opened late or were not reported open, and those asked for by name, stand first, minute "
                "by minute; the others follow in short. How to read it: report.pdf, first pages."
            ),
            "order": [now.place.place for now in places],
            "places": [place_day(record, now) for now in places if now.place.place in in_full],
            "short": [day_in_short(record, now) for now in places if now.place.place not in in_full],
        }
        made = typeset("place_days", told)
        yield Volume(volume_name(number), made.pdf, made.begins)
