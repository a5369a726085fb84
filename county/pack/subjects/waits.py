"""Response times: how long cases waited to be acknowledged, assigned, reached and cleared; open ones censored."""

from collections.abc import Iterator

from county.domain.milestones import Milestone
from county.domain.record.against_targets import TARGETS, Row, response_rows
from county.domain.response import groupings
from county.pack.record import Record
from county.pack.table import Cell, Table, number, table, text

COLUMNS = (
    text("by", "Told apart by", 13),
    text("group", wide=24),
    text("milestone", "From raised to", 13),
    number("cases"),
    number("reached"),
    number("open", "Still waiting"),
    number("ended_otherwise", "Ended otherwise"),
    number("untimed", "Time missing"),
    text("median", "Median, minutes", 14),
    text("ninetieth", "90th percentile", 14),
    number("mean", "Mean, minutes"),
    number("mean_error", "Its standard error"),
    number("mean_to", "Mean counted up to"),
    number("target", "County’s target, minutes"),
    number("in_time", "In time by each case’s target"),
    number("later", "Later than its target"),
    number("waiting_over", "Waiting past its target"),
)


def waits(record: Record) -> Table:
    """One row a group and milestone: all cases, then by effect, kind, zone, rover and hour."""
    says = (
        "Minutes from raised. Cases still open are censored, not dropped (Kaplan-Meier); one withdrawn or cleared "
        "without the milestone ended otherwise (Aalen-Johansen). Time missing: nobody told when it was passed. "
        "'more than 35' means that the share was not reached within the longest wait seen. No published target exists: "
        "targets are the county's own."
    )
    return table("response_times", "Response times", says, COLUMNS, list(_rows(record)))


def _rows(record: Record) -> Iterator[list[Cell]]:
    every = record.picture.cases()
    for milestone in Milestone:
        for each in response_rows(lambda case: "", every, milestone, record.plan, record.as_of):
            yield _row("all cases", milestone, each)
    for by, group in groupings(record.roster, record.plan).items():
        told_apart = [case for case in every if group(case)]
        found = [
            (milestone, each)
            for milestone in Milestone
            for each in response_rows(group, told_apart, milestone, record.plan, record.as_of)
        ]
        for milestone, each in sorted(found, key=lambda one: (-one[1].response.cases, one[1].group)):
            yield _row(by, milestone, each)


def _row(by: str, milestone: Milestone, each: Row) -> list[Cell]:
    waited, kept, mean = each.response, each.kept, each.response.mean
    has_targets = milestone in TARGETS
    return [
        *(by, each.group or None, milestone.value, waited.cases, waited.reached, waited.open),
        *(waited.ended_otherwise, waited.untimed, str(waited.median), str(waited.ninetieth)),
        *(_round(mean.minutes if mean else None), _round(mean.standard_error if mean else None)),
        _round(mean.to if mean else None),
        each.target,
        *((kept.in_time, kept.later, kept.waiting_over) if has_targets else (None, None, None)),
    ]


def _round(value: float | None) -> float | None:
    return None if value is None else round(value, 1)
