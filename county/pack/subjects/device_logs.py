"""Devices' own logs beside what was reported, and what is odd about each log."""

from county.domain.logs_beside import logs_beside
from county.pack.record import Record
from county.pack.table import Cell, Table, moment, number, table, text

CLAIMS = (
    text("place", wide=8),
    text("device", wide=10),
    text("claim", wide=16),
    moment("reported_at", "Reported"),
    moment("log_at", "In the log"),
    text("verdict", "So", 22),
    number("seconds_later", "Seconds later"),
    text("clock", "Clock not changed?", 8),
    text("says", wide=40),
    text("file", wide=28),
    text("sha256", "SHA-256 of the file", 64),
)
FAULTS = (
    text("place", wide=8),
    text("device", wide=10),
    text("fault", wide=18),
    text("says", wide=70),
    text("file", wide=28),
)


def device_logs(record: Record) -> Table:
    """One row a claim, by place and device."""
    says = (
        "Each claim about a device beside its own log: agrees, differs, the log does not say, or in the log and not "
        "reported. Times alone are compared, by the plan's map of event ids; a log changes nothing of the day. Without "
        "a place: the roster has no such device."
    )
    rows: list[list[Cell]] = [
        [
            *(each.place, each.device or each.named, claim.what, claim.reported_at, claim.log_at, claim.verdict.value),
            round(claim.ahead.total_seconds()) if claim.ahead is not None else None,
            "yes" if claim.clock_not_changed else None,
            *(claim.says or None, each.file, each.digest),
        ]
        for each in logs_beside(record.logs, record.picture)
        for claim in each.claims
    ]
    return table("device_logs", "Devices' own logs", says, CLAIMS, rows)


def device_log_faults(record: Record) -> Table:
    """One row a thing that is odd about a log in itself."""
    says = (
        "What is odd about a log in itself. Ids that the plan's map does not name are listed and were not guessed at."
    )
    rows: list[list[Cell]] = [
        [each.place, each.device or each.named, fault.id, fault.says, each.file]
        for each in logs_beside(record.logs, record.picture)
        for fault in each.faults
    ]
    return table("device_log_faults", "What is odd about the logs", says, FAULTS, rows)
