"""CLOCK_RULES: what time alone makes true: expected late, late, a step overdue, silence, not closed, not received."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from county.domain.entries import Entry
from county.domain.moments import whole_minutes
from county.domain.rules import expected_late
from county.domain.rules.custody_rules import on_the_way_too_long
from county.domain.rules.scene import ClockRule, Due, Scene

STALE = timedelta(hours=24)
_A_LINE = 80
_OWN_RULE = ("open", "closed", "received")


def _cause(moment: datetime) -> str:
    return f"{moment:%Y%m%dT%H%M%SZ}"


def late_opening(scene: Scene, now: datetime) -> Iterator[Due]:
    """The place's own opening time has passed and it is not reported open, the plan's grace for reporting given.

    It is true since the opening time itself, however long the report may take.
    """
    since = scene.expected.opens_at
    if now >= since + scene.plan.limits.late_grace and scene.day.opened_at is None:
        yield Due(since, "open", "not reported open at its opening time")


def step_overdue(scene: Scene, now: datetime) -> Iterator[Due]:
    """A step's due time and grace have passed and it is not done on every device it is done on."""
    for step in scene.expected.steps:
        if now < step.overdue_at or step.key in _OWN_RULE or step.key in scene.day.done:
            continue
        missing = [device for device in step.devices if (step.key, device) not in scene.day.device_done]
        on = f" on {', '.join(missing)}" if missing and len(missing) < len(step.devices) else ""
        yield Due(step.overdue_at, step.key, f"{step.step.says}{on}: not reported")


def silent(scene: Scene, now: datetime) -> Iterator[Due]:
    """Nothing heard for as long as the plan allows, from the first step's due time until the place has closed."""
    day, limits = scene.day, scene.plan.limits
    if day.closed_at or day.received_at:
        return
    heard = max(scene.expected.first_due_at, day.last_heard_at or scene.expected.first_due_at)
    allowed = limits.silent_after_before_opening if day.opened_at is None else limits.silent_after
    since = heard + allowed
    if now >= since:
        says = f"nothing heard for {whole_minutes(allowed)} min" if day.last_heard_at else "not heard from at all"
        yield Due(since, _cause(heard), says)


def message_unseen(scene: Scene, now: datetime) -> Iterator[Due]:
    """A message that the place has not acknowledged for as long as the plan allows.

    Before its first step is due nobody is there to read it. What was not acknowledged until the place's material was
    received is of no use any more.
    """
    limit = scene.plan.limits.message_unseen_after
    for each in scene.day.messages:
        since = max(each.sent_at, scene.expected.first_due_at) + limit
        if each.seen_at is None and scene.day.received_at is None and now >= since:
            yield Due(since, each.message, f"not acknowledged for {whole_minutes(limit)} min: {_begun(each.text)}")


def _begun(text: str) -> str:
    """As much of a message as stands in a line."""
    line = " ".join(text.split())
    return line if len(line) <= _A_LINE else f"{line[: _A_LINE - 3]}..."


def _message_seen(scene: Scene, entry: Entry) -> datetime | None:
    seen = next((each.seen_at for each in scene.day.messages if each.message == entry.text("cause")), None)
    return seen or scene.day.received_at


def not_closed(scene: Scene, now: datetime) -> Iterator[Due]:
    """The place's closing time passed by longer than the plan allows and it is not reported closed."""
    since = scene.expected.closes_at + scene.plan.limits.not_closed_after
    if now >= since and scene.day.closed_at is None and any(s.key == "closed" for s in scene.expected.steps):
        yield Due(since, "closed", "not reported closed")


def not_received(scene: Scene, now: datetime) -> Iterator[Due]:
    """The cut-off has passed and the place's material is not received at the office."""
    since = scene.expected.closes_at + scene.plan.limits.not_received_after
    if now >= since and scene.day.received_at is None and any(s.key == "received" for s in scene.expected.steps):
        yield Due(since, "received", "not received at the office by the cut-off")


def battery_outlasted(scene: Scene, now: datetime) -> Iterator[Due]:
    """An open case of running on battery that is older than the plan allows."""
    allowed = timedelta(minutes=scene.plan.limits.battery_minutes)
    for case in scene.cases:
        since = case.raised_at + allowed
        if case.exception == "on-battery" and case.state.open and now >= since:
            yield Due(since, case.case, f"on battery for {whole_minutes(allowed)} min", case.device)


def _battery_ended(scene: Scene, entry: Entry) -> datetime | None:
    """The end of the last time on battery that had begun when it was too long."""
    before = [
        interval
        for interval in scene.day.interruptions
        if interval.exception == "on-battery"
        and interval.device == entry.device
        and interval.begins <= entry.happened_at
    ]
    return before[-1].ends if before else None


def _heard_again(scene: Scene, entry: Entry) -> datetime | None:
    return next((heard for heard in scene.day.heard if _cause(heard) > entry.text("cause")), None)


CLOCK_RULES: tuple[ClockRule, ...] = (
    ClockRule(
        expected_late.EXPECTED_LATE,
        expected_late.EXPECTED_LATE,
        expected_late.expected_late,
        expected_late.ended,
        "the place opened, or all before its opening was done",
        "practice: the steps still to do will not fit; the plan's forecast chance",
    ),
    ClockRule(
        "late-opening",
        "late-opening",
        late_opening,
        lambda scene, _: scene.day.opened_at,
        "the place opened",
        "NAC 293.217; the place's own hours",
    ),
    ClockRule(
        "step-overdue",
        "step-overdue",
        step_overdue,
        lambda scene, entry: scene.day.done.get(entry.text("cause")),
        "the step is done",
        "the plan's due times",
    ),
    ClockRule(
        "silent",
        "silent",
        silent,
        _heard_again,
        "the place was heard from again",
        "the plan's silent_after; common practice",
    ),
    ClockRule(
        "message-unseen",
        "message-unseen",
        message_unseen,
        _message_seen,
        "the place acknowledged it",
        "the plan's message_unseen_after; common practice",
    ),
    ClockRule(
        "not-closed",
        "not-closed",
        not_closed,
        lambda scene, _: scene.day.closed_at,
        "the place closed",
        "the plan's not_closed_after",
    ),
    ClockRule(
        "not-received",
        "not-received",
        not_received,
        lambda scene, _: scene.day.received_at,
        "the place's material was received",
        "COMAR 33.07.10.01; the plan's cut-off",
    ),
    ClockRule(
        "on-the-way-too-long",
        "custody-gap",
        on_the_way_too_long,
        lambda scene, _: scene.day.received_at,
        "the place's material was received",
        "EAC Chain of Custody Best Practices (2021); the plan's on_the_way",
    ),
    ClockRule(
        "battery-outlasted",
        "no-power",
        battery_outlasted,
        _battery_ended,
        "the place reported that it is over",
        "the plan's battery_minutes",
    ),
)


def clock_findings(scene: Scene, now: datetime) -> list[tuple[ClockRule, Due]]:
    """What the clock makes true at a place by `now`, whether raised already or not.

    What became true more than a day ago is left out: the record of a past election is not written to by the clock.
    """
    return [(rule, due) for rule in CLOCK_RULES for due in rule.finds(scene, now) if now - due.since <= STALE]
