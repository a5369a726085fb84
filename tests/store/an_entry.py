"""Small builders: entries as the doors would make them."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta

from county.domain.entries import Entry, Kind, Stamp

OPENING = datetime(2026, 11, 3, 12, tzinfo=UTC)


def after(minutes: float) -> datetime:
    """A moment that many minutes after a polling place's opening."""
    return OPENING + timedelta(minutes=minutes)


def an_entry(key: str = "a-1", place: str = "P014", at: float = 0, sender: str = "", **fields: object) -> Entry:
    """A count from a place, with its own key, received two seconds after it happened."""
    return Entry(
        key=key,
        kind=Kind.COUNT,
        place=place,
        happened_at=after(at),
        received_at=after(at) + timedelta(seconds=2),
        by=place,
        door="endpoint",
        sender=sender or f"place:{place}",
        fields=fields or {"public_counter": 412, "in_line": 18},
    )


def without_time(entry: Entry) -> Entry:
    """The same, told without a time."""
    return replace(entry, happened_at=entry.received_at, stamp=Stamp.RECEIVED)


def entries(number: int, prefix: str = "n", place: str = "P014") -> Sequence[Entry]:
    """So many different entries of one place, a minute apart."""
    return [an_entry(f"{prefix}-{n}", place, n, public_counter=n) for n in range(1, number + 1)]
