"""Reports that were set aside: refused or contradicting another, and what became of them."""

from county.domain.entries import Kind
from county.domain.settling import settled_key
from county.pack.record import Record
from county.pack.table import Cell, Table, moment, number, table, text

COLUMNS = (
    number("item"),
    moment("received_at", "Received"),
    text("reason", wide=14),
    text("says", "Why", 50),
    text("door", wide=10),
    text("outcome", "What became of it", 14),
    moment("settled_at", "When"),
    text("outcome_says", "Why so", 40),
    text("raw", "As it was sent", 60),
)


def aside(record: Record) -> Table:
    """One row an item, first set aside first. What was sent is for full packs only: any name may stand in it."""
    settled = {entry.key: entry for entry in record.entries if entry.kind is Kind.SET_ASIDE_OUTCOME}
    rows: list[list[Cell]] = []
    for item in record.set_aside:
        outcome = settled.get(settled_key(item.number))
        problems = "; ".join(str(problem) for problem in item.problems)
        rows.append(
            [
                *(item.number, item.received_at, item.reason, None if record.public else problems, item.door),
                outcome.text("outcome") if outcome else "waiting",
                outcome.received_at if outcome else None,
                (outcome.text("reason") or None) if outcome else None,
                None if record.public else item.raw,
            ]
        )
    left_out = " What was sent, and why it was refused in words, is left out of a public copy." if record.public else ""
    says = f"What senders sent and could not be kept as it was; none of it bears on any figure here.{left_out}"
    return table("set_aside", "Set aside", says, COLUMNS, rows)
