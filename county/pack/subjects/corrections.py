"""Corrections beside what they replaced."""

from county.domain.entries import Entry, Kind
from county.domain.record.place_record import Line
from county.pack.record import Record
from county.pack.saying import from_whom, what
from county.pack.table import Cell, Table, moment, number, table, text

COLUMNS = (
    text("place", wide=8),
    number("report", "Entry put right"),
    moment("report_happened_at", "As first told: happened"),
    text("report_says", "As first told: says", 50),
    number("correction", "Entry that corrects"),
    moment("learned_at", "Known at the office"),
    text("correction_says", "The correction says", 50),
    text("by", wide=16),
    text("now", "The report now", 18),
)


def corrections(record: Record) -> Table:
    """One row a correction beside the report that it changed in the end, in the order learned."""
    found = record.lines
    about = {each.seq: line for line in found.values() for each in line.corrections}
    every = [entry for entry in record.entries if entry.kind is Kind.CORRECTION]
    rows = [_row(record, entry, about.get(entry.seq)) for entry in every]
    says = "Corrections are added; nothing is deleted. Each stands here beside the report it speaks of."
    return table("corrections", "Corrections", says, COLUMNS, rows)


def _row(record: Record, correction: Entry, line: Line | None) -> list[Cell]:
    told = line.entry if line else None
    return [
        correction.place,
        told.seq if told else None,
        told.happened_at if told else None,
        what(told, record.plan, record.zone) if told else None,
        *(correction.seq, correction.received_at, what(correction, record.plan, record.zone), from_whom(correction)),
        _now(line),
    ]


def _now(line: Line | None) -> str:
    if line is None:
        return "speaks of no report that the ledger holds"
    if line.stands is None:
        return "withdrawn"
    return "stands as put right" if line.struck else "stands as first told"
