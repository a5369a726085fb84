"""When voting was stopped or impaired at a place: from when to when, and what voters were offered meanwhile."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from county.domain.effects import Effect, effect_of
from county.domain.entries import Entry
from county.domain.moments import parse_moment

_BELIEVED = timedelta(hours=24)


@dataclass(frozen=True, slots=True)
class Interruption:
    """One interval of one effect, open while `ends` is None. Times are aware UTC; `key` is the report that began it.

    `reports` are those that say so, the end left out. `trouble` is the key of the report that began the trouble: it
    is shared by the intervals of a trouble whose effect changed.
    """

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
    reports: tuple[Entry, ...]
    trouble: str


def began(entry: Entry) -> datetime:
    """When the trouble began: as said by `since`, but not after the report, nor more than a day before it."""
    said = entry.text("since")
    since = _moment(said) if said else None
    if since is None or since > entry.happened_at or entry.happened_at - since > _BELIEVED:
        return entry.happened_at
    return since


def _moment(text: str) -> datetime | None:
    try:
        return parse_moment(text)
    except ValueError:
        return None


def interruptions(entries: Iterable[Entry]) -> tuple[Interruption, ...]:
    """Intervals from reports in the order they happened.

    A second report of the same trouble on the same device belongs to the interval that runs, or, with another effect,
    ends it and begins the next. An end without a beginning counts only where it says since when, or where the
    beginning is of the same moment.
    """
    closed: list[Interruption] = []
    running: list[Interruption] = []
    ends: list[Entry] = []
    for entry in entries:
        same = next((each for each in reversed(running) if _speaks_of(entry, each)), None)
        if same is not None:
            running.remove(same)
        if entry.fields.get("ends"):
            interval = same or (_interval(entry) if "since" in entry.fields else None)
            if interval is None:
                ends.append(entry)
            else:
                closed.append(_with_said(replace(interval, ends=entry.happened_at), entry))
        elif same is None:
            begun = _interval(entry)
            over = any(end.happened_at == entry.happened_at and _speaks_of(end, begun) for end in ends)
            if over:
                closed.append(replace(begun, ends=entry.happened_at))
            else:
                running.append(begun)
        elif same.effect == entry.text("effect"):
            reports = (*same.reports, entry)
            running.append(_with_said(replace(same, begins=min(same.begins, began(entry)), reports=reports), entry))
        else:
            changed_at = max(same.begins, began(entry))
            closed.append(replace(same, ends=changed_at))
            running.append(_changed(same, entry, changed_at))
    return tuple(sorted((*closed, *running), key=_in_time))


def _in_time(each: Interruption) -> tuple[datetime, bool, datetime, str]:
    return each.begins, each.ends is None, each.ends or each.begins, each.key


def _speaks_of(entry: Entry, interval: Interruption) -> bool:
    """Whether a report speaks of this interval: same trouble and device; an end that does not say them, of any."""
    kind, ends = entry.text("exception"), bool(entry.fields.get("ends"))
    same_kind = interval.exception == (kind or "other") or (ends and not kind)
    return same_kind and (interval.device == entry.device or (ends and not entry.device))


def _interval(entry: Entry) -> Interruption:
    return Interruption(
        key=entry.key,
        begins=began(entry),
        ends=None,
        effect=effect_of(entry.text("effect"), Effect.STOPPED),
        exception=entry.text("exception") or "other",
        device=entry.device,
        fallback=entry.text("fallback"),
        voters_left=entry.number("voters_left"),
        learned_at=entry.received_at,
        by=entry.by,
        reports=(entry,),
        trouble=entry.key,
    )


def _changed(before: Interruption, entry: Entry, at: datetime) -> Interruption:
    """The next interval of the same trouble, whose effect has changed."""
    after = _interval(entry)
    return replace(after, begins=at, trouble=before.trouble, fallback=after.fallback or before.fallback)


def _with_said(interval: Interruption, entry: Entry) -> Interruption:
    """Keep what a later report adds: the fallback offered, the voters who left."""
    return replace(
        interval,
        fallback=entry.text("fallback") or interval.fallback,
        voters_left=entry.number("voters_left") if "voters_left" in entry.fields else interval.voters_left,
    )
