"""A raw row from any door becomes an entry, or every reason why it cannot."""

import hashlib
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from types import MappingProxyType
from typing import Any
from zoneinfo import ZoneInfo

import rfc8785

from county.domain.carriers import CARRIERS
from county.domain.effects import Effect
from county.domain.entries import FIELDS, REPORT_KINDS, Entry, Kind, Shape, Stamp
from county.domain.field_shapes import READ
from county.domain.items import device_of, key_of
from county.domain.moments import parse_moment, write_moment
from county.domain.plan import Plan
from county.domain.roster import Place, Roster
from county.errors import NotAllowed, Problem, Refused

KEY = re.compile(r"[A-Za-z0-9._:-]{1,64}", re.ASCII)
AHEAD = timedelta(minutes=2)
OLDEST = timedelta(days=60)
_HEAD = frozenset({"key", "kind", "place", "happened_at"})
_OF_A_DEVICE = ("seal_position", "seal_number", "seal_intact", "protective_counter")


@dataclass(frozen=True, slots=True)
class Hand:
    """Whose hand gave the report, through which door, and by which clock the office received it.

    `place_only` is the one place the sender may report for, or None where it may report for any; `rover_only` the one
    rover whose cases it may act on, and then it reports for no place.
    """

    sender: str
    by: str
    door: str
    received_at: datetime
    clock: str = "real"
    place_only: str | None = None
    rover_only: str | None = None


def take(raw: object, hand: Hand, roster: Roster, plan: Plan) -> Entry:
    """Turn one raw report into an entry.

    Errors: Refused with every problem found, field by field; NotAllowed where the sender's key is another place's, or a
    rover's.
    """
    if hand.rover_only is not None:
        raise NotAllowed("a rover's key acts on its own cases only")
    if not isinstance(raw, Mapping) or not all(isinstance(name, str) for name in raw):
        raise Refused([Problem("", "a report is one object of named fields")])
    said = {name: value for name, value in raw.items() if value is not None and not _is_blank(value)}
    problems: list[Problem] = []
    key = read_key(said.get("key"), problems)
    kind = _kind(said.get("kind"), problems)
    place = _place(said.get("place"), roster, problems)
    if place and hand.place_only is not None and place.place != hand.place_only:
        raise NotAllowed(f"this key reports for {hand.place_only}, not for {place.place}")
    fields = _fields(said, kind, problems)
    happened_at, stamp, told_at = when_happened(said.get("happened_at"), hand.received_at, plan, problems)
    if kind and place:
        fields |= _the_only_device(fields, place, roster, plan)
        named = {problem.field for problem in problems}
        checks = _CHECKS[kind](_Said(fields, frozenset(said), key, place, roster, plan, stamp is Stamp.TOLD))
        problems.extend([problem for problem in checks if problem.field not in named])
    if problems or kind is None or place is None:
        raise Refused(problems)
    return Entry(
        key=key,
        kind=kind,
        place=place.place,
        happened_at=happened_at,
        received_at=hand.received_at,
        by=hand.by,
        door=hand.door,
        sender=hand.sender,
        fields=MappingProxyType(fields),
        stamp=stamp,
        told_at=told_at,
        clock=hand.clock,
    )


def content(entry: Entry) -> str:
    """SHA-256, in hex, of what the sender said: the same key with the same content is the same report.

    The time is part of it only as the sender told it, so a repeat sent later without a time is still the same.
    """
    told = entry.told_at or (write_moment(entry.happened_at) if entry.stamp is Stamp.TOLD else "")
    said: dict[str, Any] = {
        "kind": entry.kind.value,
        "place": entry.place,
        "told": told,
        "fields": {name: list(v) if isinstance(v, tuple) else v for name, v in entry.fields.items()},
    }
    return hashlib.sha256(rfc8785.dumps(said)).hexdigest()


def _is_blank(value: object) -> bool:
    return isinstance(value, str) and not value.strip()


def read_key(value: object, problems: list[Problem]) -> str:
    """The sender's own id of what it sent; empty where it is none, and then a problem is added."""
    if isinstance(value, str) and KEY.fullmatch(value):
        return value
    problems.append(Problem("key", "must be 1 to 64 of A-Z a-z 0-9 . _ : -" if value else "is needed"))
    return ""


def _kind(value: object, problems: list[Problem]) -> Kind | None:
    if isinstance(value, str) and value in REPORT_KINDS:
        return Kind(value)
    problems.append(Problem("kind", f"must be one of {', '.join(REPORT_KINDS)}"))
    return None


def _place(value: object, roster: Roster, problems: list[Problem]) -> Place | None:
    try:
        place = roster.place_of(str(READ[Shape.WORD](value))) if value is not None else None
    except ValueError as error:
        problems.append(Problem("place", str(error)))
        return None
    if place is None:
        problems.append(Problem("place", f"no place or precinct {shown(value)}" if value is not None else "is needed"))
    return place


def shown(value: object) -> str:
    """A value as it may stand in a message: short, printable."""
    text = repr(value) if isinstance(value, str) else str(type(value).__name__)
    return text if len(text) <= 60 else f"{text[:57]}..."


def _fields(said: Mapping[str, object], kind: Kind | None, problems: list[Problem]) -> dict[str, object]:
    fields: dict[str, object] = {}
    for name, value in said.items():
        if name in _HEAD:
            continue
        field = FIELDS.get(name)
        if field is None:
            problems.append(Problem(name[:64], "no such field"))
        elif kind and kind not in field.kinds and kind is not Kind.CORRECTION:
            problems.append(Problem(name, f"does not belong to a report of kind {kind}"))
        else:
            try:
                found = READ[field.shape](value)
            except ValueError as error:
                problems.append(Problem(name, str(error)))
            else:
                if found not in ("", ()):
                    fields[name] = found
    return fields


def when_happened(
    value: object, received_at: datetime, plan: Plan, problems: list[Problem]
) -> tuple[datetime, Stamp, str]:
    """When it happened; the office's own time, marked so, where the sender's time is missing or cannot be."""
    if value is None:
        return received_at, Stamp.RECEIVED, ""
    try:
        told = str(READ[Shape.WORD](value))
        moment = parse_moment(told)
    except ValueError as error:
        problems.append(Problem("happened_at", str(error)))
        return received_at, Stamp.RECEIVED, ""
    if moment is None:
        return received_at, Stamp.RECEIVED, told
    if moment > received_at + AHEAD:
        return received_at, Stamp.CLOCK_AHEAD, write_moment(moment)
    midnight = datetime.combine(plan.election.date, time(), ZoneInfo(plan.election.zone))
    if moment < min(midnight, received_at) - OLDEST:
        return received_at, Stamp.CLOCK_BEHIND, write_moment(moment)
    return moment, Stamp.TOLD, ""


def _the_only_device(fields: Mapping[str, object], place: Place, roster: Roster, plan: Plan) -> dict[str, object]:
    """The device meant where a step is done on devices and the place has only one of that type."""
    step = plan.step(str(fields.get("step", "")))
    if step is None or not step.per_device or "device" in fields:
        return {}
    meant = [device.device for device in roster.devices_at.get(place.place, ()) if device.type in step.types]
    return {"device": meant[0]} if len(meant) == 1 else {}


@dataclass(frozen=True, slots=True)
class _Said:
    """What could be read, and `names` of all that was said, whether it could be read or not."""

    fields: Mapping[str, object]
    names: frozenset[str]
    key: str
    place: Place
    roster: Roster
    plan: Plan
    has_time: bool


def _step(said: _Said) -> Iterator[Problem]:
    if "step" not in said.names:
        yield Problem("step", "is needed")
    yield from _known_words(said)
    wants_device = [name for name in _OF_A_DEVICE if name in said.names]
    on_an_item = "item" in said.names and "protective_counter" not in said.names
    if wants_device and not on_an_item and "device" not in said.names and "device" not in said.fields:
        yield Problem("device", f"is needed with {wants_device[0]}")
    if "item" in said.names and "device" in said.names:
        yield Problem("item", "a seal is on a device or on an item, not on both")


def _count(said: _Said) -> Iterator[Problem]:
    if not any(FIELDS[name].shape is Shape.NUMBER for name in said.names & FIELDS.keys()):
        yield Problem("kind", "a count carries at least one number")
    yield from _known_words(said)


def _exception(said: _Said) -> Iterator[Problem]:
    if "exception" not in said.names:
        yield Problem("exception", "is needed")
    yield from _known_words(said)


def _interruption(said: _Said) -> Iterator[Problem]:
    effect = said.fields.get("effect")
    if "effect" not in said.names and not said.fields.get("ends"):
        yield Problem("effect", "is needed: stopped or impaired")
    if effect in (Effect.AT_RISK, Effect.RECORD):
        yield Problem("effect", "an interruption is danger, stopped or impaired")
    yield from _known_words(said)


def _note(said: _Said) -> Iterator[Problem]:
    if "note" not in said.names:
        yield Problem("note", "is needed")
    yield from _known_words(said)


def _message_seen(said: _Said) -> Iterator[Problem]:
    message = said.fields.get("message")
    if not message or not KEY.fullmatch(str(message)):
        yield Problem("message", "is needed: the id of the message that is acknowledged")


def _correction(said: _Said) -> Iterator[Problem]:
    corrects = said.fields.get("corrects")
    if not corrects or not KEY.fullmatch(str(corrects)):
        yield Problem("corrects", "is needed: the key of the report put right")
    if corrects and corrects == said.key:
        yield Problem("corrects", "is this report's own key")
    new = said.names - _HEAD - {"corrects", "reason", "withdraw", "note"}
    if said.fields.get("withdraw") and new:
        yield Problem("withdraw", "a report is withdrawn or given new fields, not both")
    if not said.fields.get("withdraw") and not new and "note" not in said.names and not said.has_time:
        yield Problem("corrects", "says nothing new: give the right fields or the right time, or withdraw")
    yield from _known_words(said)


def _known_words(said: _Said) -> Iterator[Problem]:
    """The words that must be the county's own: steps, devices, kinds of exception, effects."""
    fields, plan = said.fields, said.plan
    step = plan.step(str(fields["step"])) if "step" in fields else None
    if "step" in fields and step is None:
        yield Problem("step", f"the plan has no step {shown(fields['step'])}")
    if "exception" in fields and fields["exception"] not in plan.exception_kinds:
        yield Problem("exception", f"no such kind of exception {shown(fields['exception'])}")
    if "effect" in fields and fields["effect"] not in tuple(Effect):
        yield Problem("effect", f"must be one of {', '.join(Effect)}")
    yield from _items_and_people(said)
    if "device" in fields:
        device = said.roster.device_by_id.get(str(fields["device"]))
        if device is None:
            yield Problem("device", f"no such device {shown(fields['device'])}")
        elif device.place != said.place.place:
            yield Problem("device", f"{device.device} is at {device.place}, not at {said.place.place}")
        elif step and step.per_device and device.type not in step.types:
            yield Problem(
                "device", f"{device.device} is a {device.type}; {step.key} is done on {', '.join(step.types)}"
            )


def _items_and_people(said: _Said) -> Iterator[Problem]:
    """Items are the plan's, of devices of the place; who carries or receives is a role, never a name."""
    keys = {item.key: item for item in said.plan.items}
    for field in ("item", "items", "items_missing"):
        value = said.fields.get(field, ())
        for name in value if isinstance(value, tuple) else (str(value),):
            item, device = keys.get(key_of(name)), said.roster.device_by_id.get(device_of(name))
            if item is None:
                yield Problem(field, f"the plan lists no item {shown(name)}")
            elif device_of(name) and (
                device is None or device.place != said.place.place or device.type not in item.types
            ):
                yield Problem(field, f"no such item here: {shown(name)}")
    roles = said.fields.get("roles", ())
    strange = [role for role in roles if role not in CARRIERS] if isinstance(roles, tuple) else []
    if strange:
        yield Problem("roles", f"{shown(strange[0])} is none of: {', '.join(CARRIERS)}")


_CHECKS: Mapping[Kind, Callable[[_Said], Iterator[Problem]]] = MappingProxyType(
    {
        Kind.STEP: _step,
        Kind.COUNT: _count,
        Kind.EXCEPTION: _exception,
        Kind.INTERRUPTION: _interruption,
        Kind.NOTE: _note,
        Kind.MESSAGE_SEEN: _message_seen,
        Kind.CORRECTION: _correction,
    }
)
