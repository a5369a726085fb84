"""Whom a message is for: every place, a zone of rovers, places that stand alike, or places chosen one by one."""

from collections.abc import Callable, Collection, Iterable, Mapping
from enum import StrEnum
from types import MappingProxyType

from county.domain.picture import PlaceNow


class Choice(StrEnum):
    """How the places are chosen."""

    EVERY = "every place"
    ZONES = "zones"
    STANDINGS = "places by how they stand"
    PLACES = "chosen places"


def recipients(choice: Choice, which: Collection[str], places: Iterable[PlaceNow]) -> tuple[str, ...]:
    """The places meant, in the roster's order; `which` are zones, standings or places, and of no account for EVERY."""
    meant = _MEANT[choice]
    return tuple(now.place.place for now in places if meant(now, which))


_MEANT: Mapping[Choice, Callable[[PlaceNow, Collection[str]], bool]] = MappingProxyType(
    {
        Choice.EVERY: lambda now, which: True,
        Choice.ZONES: lambda now, which: now.place.zone in which,
        Choice.STANDINGS: lambda now, which: now.standing in which,
        Choice.PLACES: lambda now, which: now.place.place in which,
    }
)
