"""What the office did, in order: the log that ICS form 214 has blocks for."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from county.domain.effects import Effect
from county.domain.entries import Entry, Kind
from county.pack.record import Record
from county.pack.saying import what
from county.pack.table import Cell, Table, moment, number, table, text

COLUMNS = (
    moment("at", "Date/Time"),
    text("activity", "Notable Activities", 90),
    text("by", wide=18),
    text("place", wide=8),
    number("seq", "Entry"),
)
_GRAVE = (Effect.DANGER.value, Effect.STOPPED.value)


def activity(record: Record) -> Table:
    """One row a deed or a grave trouble, in the order they happened."""
    notable = [entry for entry in record.entries if _NOTABLE.get(entry.kind, _never)(entry)]
    first_of: dict[str, Entry] = {}
    for entry in notable:
        if entry.kind is Kind.MESSAGE:
            first_of.setdefault(entry.text("message"), entry)
    notable = [entry for entry in notable if entry.kind is not Kind.MESSAGE or first_of[entry.text("message")] is entry]
    notable.sort(key=lambda entry: (entry.happened_at, entry.seq))
    rows: list[list[Cell]] = [
        [entry.happened_at, what(entry, record.plan, record.zone), entry.by, entry.place or None, entry.seq]
        for entry in notable
    ]
    says = (
        "What people at the office did, and what was reported or noted of danger or voting stopped. Counts, steps and "
        "notices are in the other subjects. A message sent to many places stands here once."
    )
    return table("activity_log", "Activity log", says, COLUMNS, rows)


def _always(entry: Entry) -> bool:
    return True


def _never(entry: Entry) -> bool:
    return False


def _grave(entry: Entry) -> bool:
    return entry.text("effect") in _GRAVE


_NOTABLE: Mapping[Kind, Callable[[Entry], bool]] = MappingProxyType(
    {
        Kind.ACTION: _always,
        Kind.MESSAGE: _always,
        Kind.HAND_OVER: _always,
        Kind.ROSTER: _always,
        Kind.PLAN: _always,
        Kind.SET_ASIDE_OUTCOME: _always,
        Kind.EXCEPTION: _grave,
        Kind.INTERRUPTION: _grave,
        Kind.RAISED: _grave,
    }
)
