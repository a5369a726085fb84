"""What is odd about a device's log in itself: FAULTS, the table of what is looked for; nothing is guessed."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from zoneinfo import ZoneInfo

from county.domain.device_log import LogDevice, LogDocumentation, LogEvent, LogWindow
from county.domain.log_milestones import LogMaps

_NAMED = 12


@dataclass(frozen=True, slots=True)
class LogFault:
    """One oddity: its stable id, the device as the log names it, and a sentence."""

    id: str
    device: str
    says: str


@dataclass(frozen=True, slots=True)
class LogScene:
    """A device of a log and all that bears on it: the county's maps, the documentation given, the zone, the roster.

    `known` is the roster's device for it, or empty. `documentation` may be of another model; None where none was given.
    `window` is the day that is compared.
    """

    device: LogDevice
    maps: LogMaps
    documentation: LogDocumentation | None
    zone: str
    known: str
    window: LogWindow


def log_faults(scene: LogScene) -> tuple[LogFault, ...]:
    """Everything odd about one device's log, in the order of the table."""
    return tuple(LogFault(fault, scene.device.id, says) for fault, find in FAULTS.items() for says in find(scene))


def _not_in_the_roster(scene: LogScene) -> Iterator[str]:
    if not scene.known:
        yield f"no device of the roster has the number or serial {scene.device.id}"


def _no_events(scene: LogScene) -> Iterator[str]:
    if not scene.device.events:
        yield "the log has no event of this device"


def _no_map(scene: LogScene) -> Iterator[str]:
    if scene.device.events and not scene.maps.of(scene.device.model):
        model = scene.device.model or "(no model named)"
        yield f'the plan has no [[device_log]] for the model "{model}", so none of its events is read'


def _unmapped(scene: LogScene) -> Iterator[str]:
    known = scene.maps.of(scene.device.model)
    strange = Counter(event.id for event in scene.device.events if event.id not in known)
    if known and strange:
        named = (f"{each} ({times})" if times > 1 else each for each, times in sorted(strange.items()))
        yield f"ids the plan's map does not know: {_listed(named)}"


def _undocumented(scene: LogScene) -> Iterator[str]:
    if scene.documentation is not None:
        strange = sorted({event.id for event in scene.device.events} - set(scene.documentation.ids))
        if strange:
            yield f"ids the documentation does not define: {_listed(strange)}"


def _other_model(scene: LogScene) -> Iterator[str]:
    documentation = scene.documentation
    if documentation is not None and documentation.model != scene.device.model:
        yield f'the log says model "{scene.device.model}", its documentation "{documentation.model}"'


def _no_documentation(scene: LogScene) -> Iterator[str]:
    if scene.documentation is None and scene.device.events:
        yield "no documentation file was given, so what the ids mean rests on the plan's map alone"


def _unnumbered(scene: LogScene) -> Iterator[str]:
    odd = [event.sequence for event in scene.device.events if event.number is None]
    if odd:
        yield f"sequence is no number: {_listed(repr(each) for each in odd)}"


def _repeats(scene: LogScene) -> Iterator[str]:
    times = Counter(_numbers(scene.device.events))
    again = [f"{number} ({count} times)" for number, count in sorted(times.items()) if count > 1]
    if again:
        yield f"sequence repeats: {_listed(again)}"


def _gaps(scene: LogScene) -> Iterator[str]:
    numbers = sorted(set(_numbers(scene.device.events)))
    missing = [(low + 1, high - 1) for low, high in pairwise(numbers) if high - low > 1]
    if numbers and numbers[0] > 1:
        missing.insert(0, (1, numbers[0] - 1))
    if missing:
        yield f"sequence has gaps: {_listed(str(a) if a == b else f'{a} to {b}' for a, b in missing)}"


def _out_of_order(scene: LogScene) -> Iterator[str]:
    numbers = list(_numbers(scene.device.events))
    if numbers != sorted(numbers):
        yield "the events do not stand in the order of their sequence; they are read by its number"


def _backwards(scene: LogScene) -> Iterator[str]:
    back = [
        f"from {earlier.sequence} to {later.sequence} by {_length(earlier, later, scene.zone)}"
        for earlier, later in pairwise(scene.device.in_order())
        if later.moment(scene.zone) < earlier.moment(scene.zone)
    ]
    if back:
        yield f"time goes backwards: {_listed(back)}"


def _other_days(scene: LogScene) -> Iterator[str]:
    outside = [event for event in scene.device.events if event.moment(scene.zone) not in scene.window]
    if outside:
        days = sorted({event.moment(scene.zone).astimezone(ZoneInfo(scene.zone)).date() for event in outside})
        yield f"{len(outside)} events of other days are not compared: {_listed(map(str, days))}"


def _no_zone(scene: LogScene) -> Iterator[str]:
    without = sum(not event.has_zone for event in scene.device.events)
    if without:
        yield f"{without} of {len(scene.device.events)} times have no offset: taken as wall time in {scene.zone}"


FAULTS: Mapping[str, Callable[[LogScene], Iterator[str]]] = {
    "not-in-the-roster": _not_in_the_roster,
    "no-events": _no_events,
    "no-map": _no_map,
    "unmapped-ids": _unmapped,
    "undocumented-ids": _undocumented,
    "other-model": _other_model,
    "no-documentation": _no_documentation,
    "sequence-no-number": _unnumbered,
    "sequence-repeats": _repeats,
    "sequence-gaps": _gaps,
    "out-of-order": _out_of_order,
    "time-backwards": _backwards,
    "other-days": _other_days,
    "no-offset": _no_zone,
}


def _numbers(events: Iterable[LogEvent]) -> Iterator[int]:
    return (event.number for event in events if event.number is not None)


def _length(earlier: LogEvent, later: LogEvent, zone: str) -> str:
    seconds = int((earlier.moment(zone) - later.moment(zone)).total_seconds())
    return f"{seconds} s" if seconds < 120 else f"{seconds // 60} min"


def _listed(words: Iterable[str]) -> str:
    """The first of many by name, the rest as a count."""
    named = list(words)
    more = len(named) - _NAMED
    return ", ".join(named[:_NAMED]) + (f" and {more} more" if more > 0 else "")
