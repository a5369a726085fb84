"""Seal numbers found against the numbers recorded at final testing."""

from collections.abc import Mapping

from county.domain.entries import Entry


def same_number(found: str, recorded: str) -> bool:
    """Whether two seal numbers are the same to a person: spaces, dashes and letter case aside."""
    return _plain(found) == _plain(recorded)


def _plain(number: str) -> str:
    return number.replace(" ", "").replace("-", "").casefold()


def position_of(entry: Entry, recorded: Mapping[str, str]) -> str:
    """The position a seal report speaks of: as said, or the only one, or the one whose number it is; else empty."""
    said = entry.text("seal_position")
    if said:
        return said
    if len(recorded) == 1:
        return next(iter(recorded))
    found = entry.text("seal_number")
    return next((position for position, number in recorded.items() if found and same_number(found, number)), "")
