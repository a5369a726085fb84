"""One place's day as reported: its entries folded to steps done, counts, interruptions and when it was heard from."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from operator import attrgetter
from types import MappingProxyType

from county.domain.broadcasts import Broadcast, broadcasts
from county.domain.corrections import PutRight, put_right
from county.domain.entries import REPORT_KINDS, Entry, Kind
from county.domain.expected import Expected, ExpectedStep
from county.domain.interruptions import Interruption, interruptions
from county.domain.seals import position_of

_REPORTS = frozenset(REPORT_KINDS)
_as_they_happened = attrgetter("happened_at", "key")


@dataclass(frozen=True, slots=True)
class PlaceDay:
    """What stands for one place after corrections; nothing in it depends on the time of asking.

    `done`: step to the moment it was complete at the place, on all its devices; `device_done`: (step, device) to
    moment. The tuples of entries are in the order they happened, `messages` in the order they were sent. `told` is
    everything as first told, corrections beside it. `heard` is every moment the place was heard from. All times are
    aware UTC.
    """

    place: str
    done: Mapping[str, datetime]
    device_done: Mapping[tuple[str, str], datetime]
    steps: tuple[Entry, ...]
    counts: tuple[Entry, ...]
    exceptions: tuple[Entry, ...]
    interrupted: tuple[Entry, ...]
    notes: tuple[Entry, ...]
    raised: tuple[Entry, ...]
    actions: tuple[Entry, ...]
    notices: tuple[Entry, ...]
    messages: tuple[Broadcast, ...]
    interruptions: tuple[Interruption, ...]
    corrected: tuple[PutRight, ...]
    told: tuple[Entry, ...]
    heard: tuple[datetime, ...]

    @property
    def last_heard_at(self) -> datetime | None:
        return self.heard[-1] if self.heard else None

    @property
    def opened_at(self) -> datetime | None:
        return self.done.get("open")

    @property
    def closed_at(self) -> datetime | None:
        return self.done.get("closed")

    @property
    def received_at(self) -> datetime | None:
        return self.done.get("received")

    @property
    def last_step(self) -> str:
        """The step completed last, or empty."""
        return max(reversed(tuple(self.done)), key=self.done.__getitem__, default="")


def fold(expected: Expected, entries: Iterable[Entry], *, heard_by_happening: bool = False) -> PlaceDay:
    """Fold one place's entries, in whatever order and however often they arrive, to its day.

    `heard_by_happening` takes the moment a report happened, not the moment it was received, as when it was heard:
    for the view of what was true, in which nothing has been received yet and a correction is no sign of life.
    """
    told = sorted({entry.key: entry for entry in entries}.values(), key=_as_they_happened)
    corrected: tuple[PutRight, ...] = ()
    standing, kinds = told, _by_kind(told)
    if kinds[Kind.CORRECTION]:
        corrected = put_right(told)
        standing = _standing(told, corrected)
        kinds = _by_kind(standing)
    steps = kinds[Kind.STEP]
    device_done = _device_done(steps, expected)
    if heard_by_happening:
        heard = [e.happened_at for e in standing if e.kind in _REPORTS and e.kind is not Kind.CORRECTION]
    else:
        heard = [e.received_at for e in told if e.kind in _REPORTS]
    since = expected.heard_from
    heard = [moment for moment in heard if moment >= since]
    return PlaceDay(
        place=expected.place.place,
        done=MappingProxyType(_done(device_done, expected)),
        device_done=MappingProxyType(device_done),
        steps=tuple(steps),
        counts=tuple(kinds[Kind.COUNT]),
        exceptions=tuple(kinds[Kind.EXCEPTION]),
        interrupted=tuple(kinds[Kind.INTERRUPTION]),
        notes=tuple(kinds[Kind.NOTE]),
        raised=tuple(kinds[Kind.RAISED]),
        actions=tuple(kinds[Kind.ACTION]),
        notices=tuple(kinds[Kind.NOTICE]),
        messages=broadcasts(kinds[Kind.MESSAGE], kinds[Kind.MESSAGE_SEEN]),
        interruptions=interruptions(kinds[Kind.INTERRUPTION]),
        corrected=corrected,
        told=tuple(told),
        heard=tuple(sorted(heard)),
    )


def _by_kind(entries: Iterable[Entry]) -> Mapping[Kind, list[Entry]]:
    kinds: defaultdict[Kind, list[Entry]] = defaultdict(list)
    for entry in entries:
        kinds[entry.kind].append(entry)
    return kinds


def _standing(told: list[Entry], corrected: tuple[PutRight, ...]) -> list[Entry]:
    """The entries as they stand after corrections, in the order they happened."""
    new = {each.told.key: each.stands for each in corrected}
    standing = [new.get(entry.key, entry) for entry in told]
    return sorted((e for e in standing if e is not None), key=_as_they_happened)


def _device_done(steps: Iterable[Entry], expected: Expected) -> dict[tuple[str, str], datetime]:
    """First moment of each (step, device); a seal check is done when every recorded position has been looked at."""
    done: dict[tuple[str, str], datetime] = {}
    looked_at: dict[str, set[str]] = {}
    for entry in steps:
        step, device = entry.text("step"), entry.device
        if (step, device) in done or entry.happened_at < expected.step_from.get(step, entry.happened_at):
            continue
        if step == "seals-checked" and ("seal_number" in entry.fields or "seal_intact" in entry.fields):
            recorded = expected.seals.get(device, {})
            positions = looked_at.setdefault(device, set())
            positions.add(position_of(entry, recorded) or entry.key)
            if len(positions) < len(recorded):
                continue
        done[step, device] = entry.happened_at
    return done


def _done(device_done: Mapping[tuple[str, str], datetime], expected: Expected) -> dict[str, datetime]:
    done = {}
    reported = {step for step, _ in device_done}
    for step in expected.steps:
        moment = _step_done(step, device_done) if step.key in reported else None
        if moment is not None:
            done[step.key] = moment
    return done


def _step_done(step: ExpectedStep, device_done: Mapping[tuple[str, str], datetime]) -> datetime | None:
    """When the step was complete: said of the place, or else of the last of its devices."""
    place_at = device_done.get((step.key, ""))
    if not step.step.per_device:
        reported = [moment for (key, _), moment in device_done.items() if key == step.key] if place_at is None else []
        return place_at if place_at is not None else min(reported, default=None)
    latest: datetime | None = None
    for device in step.devices:
        moment = device_done.get((step.key, device))
        if moment is None or (place_at is not None and place_at < moment):
            moment = place_at
        if moment is None:
            return None
        latest = moment if latest is None or moment > latest else latest
    return latest
