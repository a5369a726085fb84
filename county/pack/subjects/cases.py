"""Cases, each with its whole life, and how many there were of each kind."""

from county.domain.cases import Case
from county.domain.record.by_kind import by_kind
from county.pack.record import Record
from county.pack.seen import seen_at
from county.pack.table import Cell, Table, moment, number, table, text

CASES = (
    text("case", wide=30),
    text("place", wide=8),
    text("device"),
    text("exception", "Kind", 30),
    text("effect", wide=10),
    text("state", wide=13),
    moment("raised_at", "Raised (when it became true)"),
    moment("learned_at", "Known at the office"),
    text("raised_by", "Raised by", 16),
    moment("acknowledged_at", "Acknowledged"),
    moment("assigned_at", "Assigned"),
    text("rover", wide=8),
    moment("accepted_at", "Accepted by the rover"),
    moment("under_way_at", "Under way"),
    moment("on_site_at", "On site"),
    moment("ended_at", "Ended"),
    text("says", "What was found", 50),
    text("expected", wide=14),
    text("found", wide=14),
    text("cleared_says", "How it ended", 40),
    number("deeds", "Things people did with it"),
    number("told", "Notices"),
)
KINDS = (
    text("exception", "Kind (key)", 24),
    text("says", "Kind", 30),
    text("worst", "Worst effect", 10),
    number("cases"),
    number("places"),
    number("open"),
    number("cleared"),
    number("cleared_by_facts", "Of those, by reports alone"),
    number("withdrawn"),
    text("median", "Median minutes to cleared", 14),
    text("ninetieth", "90th percentile", 14),
)


def cases(record: Record) -> Table:
    """One row a case, in the order they were raised."""
    every = sorted(record.picture.cases(), key=lambda case: (case.raised_at, case.case))
    says = (
        "Every case, with each time of its response clock. A time that nobody told is empty, not 0. Raised is when the "
        "trouble became true, which may be before the office knew."
    )
    return table("cases", "Cases", says, CASES, [_case(record, case) for case in every])


def _case(record: Record, case: Case) -> list[Cell]:
    return [
        *(case.case, case.place, case.device or None, record.plan.kind(case.exception).says, case.effect.value),
        *(case.state.value, case.raised_at, case.learned_at, case.raised_by),
        *(
            seen_at(case),
            case.assigned_at,
            case.rover or None,
            case.accepted_at,
            case.under_way_at,
        ),
        *(case.on_site_at, case.ended_at, case.says, case.expected or None, case.found or None),
        *(case.cleared_says or None, sum(bool(step.key) for step in case.steps), len(case.told)),
    ]


def kinds(record: Record) -> Table:
    """One row a kind that came up, the worst effect first."""
    says = "How many cases of each kind, how they ended, and how long until they were cleared, open ones censored."
    rows: list[list[Cell]] = [
        [
            *(each.exception, each.says, each.worst.value, each.cases, each.places, each.open, each.cleared),
            *(each.cleared_by_facts, each.withdrawn, str(each.clearing.median), str(each.clearing.ninetieth)),
        ]
        for each in by_kind(record.picture.cases(), record.plan, record.as_of)
    ]
    return table("exceptions_by_kind", "Exceptions by kind", says, KINDS, rows)
