"""Seal numbers found against the numbers recorded at final testing."""

from collections.abc import Mapping
from itertools import chain

from county.domain.entries import Entry


def same_number(found: str, recorded: str) -> bool:
    """Whether two seal numbers are the same to a person: spaces, dashes and letter case aside."""
    return found == recorded or _plain(found) == _plain(recorded)


def _plain(number: str) -> str:
    return number.replace(" ", "").replace("-", "").casefold()


def position_of(entry: Entry, recorded: Mapping[str, str]) -> str:
    """The position a seal report speaks of, in the roster's words; else as it was said, or empty.

    Letter case aside. Where no such position is recorded, or none was said: the one whose number it is, or the only.
    """
    said = entry.text("seal_position")
    if said in recorded:
        return said
    plain = said.casefold()
    found = entry.text("seal_number")
    by_name = (position for position in recorded if said and position.casefold() == plain)
    by_number = (position for position, number in recorded.items() if found and same_number(found, number))
    the_only = iter(recorded) if len(recorded) == 1 and not said else iter(())
    return next(chain(by_name, by_number, the_only), said)
