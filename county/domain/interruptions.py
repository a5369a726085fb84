"""When voting was stopped or impaired at a place: from when to when, and what voters were offered meanwhile."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime

from county.domain.effects import Effect
from county.domain.entries import Entry
from county.domain.moments import parse_moment


@dataclass(frozen=True, slots=True)
class Interruption:
    """One interval, open while `ends` is None. Times are aware UTC; `key` is the report that began it."""

    key: str
    begins: datetime
    ends: datetime | None
    effect: Effect
    exception: str
    device: str
    fallback: str
    voters_left: int | None
    learned_at: datetime
    by: str


def began(entry: Entry) -> datetime:
    """When the trouble began: as said by `since`, but never after the report itself."""
    since = parse_moment(entry.text("since")) if "since" in entry.fields else None
    return min(since, entry.happened_at) if since else entry.happened_at


def interruptions(entries: Iterable[Entry]) -> tuple[Interruption, ...]:
    """Intervals from reports in the order they happened.

    A second report of the same trouble on the same device belongs to the interval that runs, or, with another effect,
    ends it and begins the next. An end without a beginning counts only where it says since when.
    """
    closed: list[Interruption] = []
    running: list[Interruption] = []
    for entry in entries:
        same = _running(entry, running)
        if entry.fields.get("ends"):
            interval = same or (_interval(entry) if "since" in entry.fields else None)
            if same:
                running.remove(same)
            if interval:
                closed.append(_with_said(replace(interval, ends=entry.happened_at), entry))
        elif same is None:
            running.append(_interval(entry))
        else:
            running.remove(same)
            if same.effect == entry.text("effect"):
                running.append(_with_said(replace(same, begins=min(same.begins, began(entry))), entry))
            else:
                changed_at = max(same.begins, began(entry))
                closed.append(replace(same, ends=changed_at))
                running.append(replace(_interval(entry), begins=changed_at))
    return tuple(sorted((*closed, *running), key=lambda each: (each.begins, each.key)))


def _running(entry: Entry, running: list[Interruption]) -> Interruption | None:
    """The running interval this report speaks of: same trouble and device where said; an end speaks of the latest."""
    kind, device = entry.text("exception"), entry.device
    ends = bool(entry.fields.get("ends"))
    for interval in reversed(running):
        same_kind = interval.exception == (kind or "other") or (ends and not kind)
        if same_kind and (interval.device == device or (ends and not device)):
            return interval
    return None


def _interval(entry: Entry) -> Interruption:
    return Interruption(
        key=entry.key,
        begins=began(entry),
        ends=None,
        effect=Effect(entry.text("effect") or Effect.STOPPED),
        exception=entry.text("exception") or "other",
        device=entry.device,
        fallback=entry.text("fallback"),
        voters_left=entry.number("voters_left"),
        learned_at=entry.received_at,
        by=entry.by,
    )


def _with_said(interval: Interruption, entry: Entry) -> Interruption:
    """Keep what a later report adds: the fallback offered, the voters who left."""
    return replace(
        interval,
        fallback=entry.text("fallback") or interval.fallback,
        voters_left=entry.number("voters_left") if "voters_left" in entry.fields else interval.voters_left,
    )
