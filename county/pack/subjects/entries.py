"""Every entry of the ledger in words, with what became of it."""

from county.domain.entries import Entry
from county.domain.record.place_record import Line
from county.pack.record import Record
from county.pack.saying import from_whom, what, whose_clock
from county.pack.table import Cell, Table, moment, number, table, text

COLUMNS = (
    number("seq", "Entry"),
    text("place", wide=8),
    moment("happened_at", "Happened"),
    moment("learned_at", "Known at the office"),
    number("seconds_behind", "Seconds from happened to known"),
    text("whose_clock", "By whose clock", 26),
    text("told_at", "Time as told, where it was not taken", 22),
    text("kind", wide=12),
    text("device"),
    text("what", wide=70),
    text("from", "From", 18),
    text("stands", "Whether it stands", 30),
    text("key", wide=24),
)


def entries(record: Record) -> Table:
    """One row an entry, in the ledger's order."""
    found = record.lines
    says = (
        "The whole ledger in words, in the order the office learned it. Happened is when it was true, known is when "
        "the office had it. A report that was put right stays, with the entry that replaced it beside it."
    )
    rows = [_row(record, entry, found.get(entry.seq)) for entry in record.entries]
    return table("entries", "Every entry", says, COLUMNS, rows)


def became(line: Line | None) -> str:
    """What became of a report that a correction speaks of; empty for any other."""
    if line is None or not line.corrections:
        return ""
    by = ", ".join(f"entry {correction.seq}" for correction in line.corrections)
    if line.stands is None:
        return f"withdrawn by {by}"
    return f"put right by {by}" if line.struck else f"stands again after {by}"


def _row(record: Record, entry: Entry, line: Line | None) -> list[Cell]:
    return [
        *(entry.seq, entry.place or None, entry.happened_at, entry.received_at),
        int((entry.received_at - entry.happened_at).total_seconds()),
        *(whose_clock(entry), entry.told_at or None, entry.kind.value, entry.device or None),
        *(what(entry, record.plan, record.zone), from_whom(entry), became(line) or None, entry.key),
    ]
