"""What people did with a case, in a sentence."""

from county.domain.cases import Action, Case, CaseStep
from county.domain.picture import PlaceNow
from county.domain.record.late_openings import LATE
from county.domain.wall import Wall
from county.pack.record import Record
from county.pack.seen import seen_at

_MOST_OTHERS, _CLOCK = 3, "clock"


def seen_by(case: Case) -> CaseStep | None:
    """The first thing that a person did with a case, other than to write a note."""
    return next((step for step in case.steps if step.key and step.action != Action.NOTE), None)


def done(record: Record, now: PlaceNow, case: Case | None, wall: Wall) -> str:
    """What was done with this case of a place, from who saw it to its end."""
    if case is None:
        return "No case was raised." if now.day.heard else "Nothing; nothing was reported."
    rover = f"{case.rover} " if case.rover else ""
    deeds = [
        _seen(case, wall),
        f"{rover}assigned {wall.minute(case.assigned_at)}" if case.assigned_at else "",
        f"on site {wall.minute(case.on_site_at)}" if case.on_site_at else "",
        _ended(case, wall),
    ]
    device = f" {case.device}" if case.device else ""
    which = f"{record.plan.kind(case.exception).says}{device} ({case.effect.value})"
    return f"{which}: {'; '.join(filter(None, deeds))}{_meanwhile(record, now, case, wall)}"


def _meanwhile(record: Record, now: PlaceNow, case: Case, wall: Wall) -> str:
    """What people did there before a late opening with other cases, which may be why the place was late."""
    if case.exception != LATE:
        return ""
    until = now.day.opened_at or record.as_of
    # what the clock notices follows from the day itself and is no reason
    others = [
        each
        for each in now.cases
        if each is not case and each.raised_at < until and each.raised_by != _CLOCK and seen_at(each)
    ]
    said = [
        f"{record.plan.kind(each.exception).says}: acknowledged {wall.minute(seen_at(each))}"
        + (f", {each.rover} on site {wall.minute(each.on_site_at)}" if each.on_site_at else "")
        for each in sorted(others, key=lambda each: (each.effect.rank, each.raised_at))
    ]
    more = f"; and {len(said) - _MOST_OTHERS} more" if len(said) > _MOST_OTHERS else ""
    when = "before it opened" if now.day.opened_at else "there"
    return f". Other cases {when}: {'; '.join(said[:_MOST_OTHERS])}{more}" if said else ""


def _seen(case: Case, wall: Wall) -> str:
    seen, acknowledged = seen_by(case), seen_at(case)
    if seen is None:
        return "nobody acted on it"
    if acknowledged is None:
        return f"nobody acted on it before it ended, {seen.by} at {wall.minute(seen.at)}"
    return f"acknowledged {wall.minute(acknowledged)} by {seen.by}"


def _ended(case: Case, wall: Wall) -> str:
    if case.ended_at is None:
        return "still open at the end"
    how = f", {case.cleared_says}" if case.cleared_says else ""
    return f"ended {wall.minute(case.ended_at)}{how}"
