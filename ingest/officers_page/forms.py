"""What was typed into a form of the sheet becomes raw reports, as any door gives them to intake."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from types import MappingProxyType
from typing import TypeAlias
from zoneinfo import ZoneInfo

from county.domain.effects import Effect
from county.domain.entries import FIELDS, Entry, Kind, Shape
from county.domain.items import key_of
from county.domain.moments import parse_clock, parse_moment, write_moment
from county.domain.picture import PlaceState
from county.domain.plan import Plan
from county.errors import Problem, Refused
from ingest.officers_page.asks import CARRIED, COUNT, NEW_SEAL, ROLE, asks_of
from ingest.phone.forms import Form

Raw: TypeAlias = dict[str, object]

COUNTER = "counter."
"""How the count's form names the public counter of one scanner: this, and the scanner."""

RIGHTED = "put right at the place"
_SLACK = timedelta(minutes=5)
_A_DAY = timedelta(days=1)
_EFFECTS: Mapping[str, Effect] = MappingProxyType(
    {"no": Effect.STOPPED, "slower": Effect.IMPAIRED, "yes": Effect.AT_RISK}
)
_INTACT: Mapping[str, str] = MappingProxyType({"whole": "true", "cut": "false", "missing": "false"})
_CLOCKS: Mapping[str, str] = MappingProxyType(
    {"phone": "this phone", "wall": "the clock on the wall", "watch": "an officer's watch"}
)


@dataclass(frozen=True, slots=True)
class Typed:
    """A form as it came, and what is needed to read it: the place folded, the county's plan, the time (aware UTC)."""

    form: Form
    state: PlaceState
    plan: Plan
    now: datetime

    def get(self, name: str) -> str:
        return self.form.get(name, "").strip()

    @property
    def place(self) -> str:
        return self.state.expected.place.place

    @property
    def held(self) -> Entry | None:
        """What is in the ledger already under this form's key: a form sent twice is read as it was the first time."""
        return next((entry for entry in self.state.day.told if entry.key == self.get("key")), None)

    @property
    def base(self) -> datetime:
        """When the form was sent off, by the phone where it said so."""
        try:
            told = parse_moment(self.get("happened_at"))
        except ValueError:
            told = None
        return told or (self.held.received_at if self.held else self.now)

    def head(self, kind: Kind, part: int = 0) -> Raw:
        """Key, kind, place and time of one report; `part` counts the reports of a form that makes several."""
        key = f"{self.get('key')}.{part}" if part else self.get("key")
        return {"key": key, "kind": kind.value, "place": self.place, "happened_at": self._happened_at()}

    def some(self, kind: Kind, *besides: str) -> Raw:
        """The fields of this kind of report that were filled in."""
        fields = ((name, f.shape) for name, f in FIELDS.items() if kind in f.kinds and name not in besides)
        return {name: _number(self.get(name), shape) for name, shape in fields if self.get(name)}

    def _happened_at(self) -> str | None:
        typed = self.get("clock_time")
        if not typed:
            return self.get("happened_at") or None
        try:
            clock = parse_clock(typed)
        except ValueError as error:
            raise Refused([Problem("clock_time", str(error))]) from None
        place = self.state.expected.place
        zone = ZoneInfo(place.time_zone or self.plan.election.zone)
        today = self.base.astimezone(zone)
        moment = datetime.combine(today.date(), clock, zone)
        # a time that is still to come was yesterday's: shortly before midnight, told after it
        return write_moment(moment if moment <= today + _SLACK else moment - _A_DAY)


def _number(text: str, shape: Shape = Shape.NUMBER) -> str:
    """A number as people write it, `48,210`, as digits alone; anything else as it is."""
    return text.replace(",", "").replace(" ", "") if shape is Shape.NUMBER else text


def raw_reports(typed: Typed) -> list[Raw]:
    """The reports that a form makes, in order. Raises Refused where the form itself lacks something."""
    make = FORMS.get(typed.get("form"))
    if make is None:
        raise Refused([Problem("form", "is none of the sheet's forms")])
    return list(make(typed))


def _step(typed: Typed) -> Iterator[Raw]:
    if typed.get("corrects"):
        yield from _put_right(typed)
        return
    problems = list(_missing(typed))
    if problems:
        raise Refused(problems)
    yield typed.head(Kind.STEP) | typed.some(Kind.STEP) | _seal(typed) | _carried(typed) | _with_notes(typed)
    yield from _new_seals(typed)


def _missing(typed: Typed) -> Iterator[Problem]:
    for ask in asks_of(typed.get("step"), typed.get("device")):
        if ask.required and not typed.get(ask.name):
            yield Problem(ask.name, "is needed")
    if typed.get("seal_intact") == "whole" and not typed.get("seal_number"):
        yield Problem("seal_number", "is needed where the seal is whole")


def _seal(typed: Typed) -> Raw:
    said = typed.get("seal_intact")
    return {"seal_intact": _INTACT.get(said, said)} if said else {}


def _carried(typed: Typed) -> Raw:
    """The items ticked, and who carries them. Ticks of a form that puts right are added to what was told before."""
    ticked = [name.removeprefix(CARRIED) for name in typed.form if name.startswith(CARRIED) and typed.get(name)]
    roles = [typed.get(name) for name in typed.form if name.startswith(ROLE) and typed.get(name)]
    told = (entry.fields.get("items") for entry in typed.state.day.steps if entry.key == typed.get("corrects"))
    before = next((names for names in told if isinstance(names, tuple)), ())
    raw: Raw = {"items": list(dict.fromkeys([*before, *ticked]))} if ticked else {}
    return raw | ({"roles": roles} if roles else {})


def _with_notes(typed: Typed) -> Raw:
    notes = [typed.get("note")]
    if typed.get("seal_intact") == "missing":
        notes.append("No seal there.")
    if typed.get("by_clock") in _CLOCKS:
        notes.append(f"Time by {_CLOCKS[typed.get('by_clock')]}.")
    said = " ".join(note for note in notes if note)
    return {"note": said} if said else {}


def _new_seals(typed: Typed) -> Iterator[Raw]:
    """Each seal put on at the end of the day, a report of its own: of its device and position."""
    names = (name for name in typed.form if name.startswith(NEW_SEAL) and typed.get(name))
    for part, name in enumerate(names, 1):
        on, _, position = name.removeprefix(NEW_SEAL).partition("~")
        where = "item" if key_of(on) in {item.key for item in typed.plan.items} else "device"
        seal = {where: on, "seal_position": position, "seal_number": typed.get(name)}
        told = _told_of(typed, on, position)
        if typed.get("corrects") and told:
            head = typed.head(Kind.CORRECTION, part) | {"happened_at": None}
            yield head | {"corrects": told, "reason": RIGHTED, "seal_number": typed.get(name)}
        else:
            yield typed.head(Kind.STEP, part) | {"step": typed.get("step")} | seal


def _told_of(typed: Typed, on: str, position: str) -> str:
    """The key of what was told of this seal at this step; empty where nothing was, or this very form told it."""
    return next(
        (
            entry.key
            for entry in typed.state.day.steps
            if entry.text("step") == typed.get("step")
            and (entry.device or entry.text("item"), entry.text("seal_position")) == (on, position)
            and "seal_number" in entry.fields
            and not entry.key.startswith(f"{typed.get('key')}.")
        ),
        "",
    )


def _put_right(typed: Typed) -> Iterator[Raw]:
    """A correction: only what was typed anew; its time is a new time of the step only where one was typed."""
    seals = list(_new_seals(typed))
    head = typed.head(Kind.CORRECTION)
    if not typed.get("clock_time"):
        head["happened_at"] = None
    evidence = typed.some(Kind.STEP, "step", "device", "seal_position", "note") | _seal(typed) | _carried(typed)
    evidence |= _with_notes(typed)
    if evidence or typed.get("clock_time") or not seals:
        yield head | {"corrects": typed.get("corrects"), "reason": RIGHTED} | evidence
    yield from seals


def _count(typed: Typed) -> Iterator[Raw]:
    parts: list[tuple[Kind, Raw]] = []
    own = {ask.name: _number(typed.get(ask.name)) for ask in COUNT if typed.get(ask.name)}
    if own:
        parts.append((Kind.COUNT, dict(own)))
    for device in typed.state.expected.scanners:
        counter = _number(typed.get(f"{COUNTER}{device}"))
        if counter:
            parts.append((Kind.COUNT, {"device": device, "public_counter": counter}))
    if not parts:
        raise Refused([Problem("", "type at least one number")])
    for number, (kind, fields) in enumerate(parts):
        yield typed.head(kind, number) | fields | ({"note": typed.get("note")} if number == 0 else {})


def _help(typed: Typed) -> Iterator[Raw]:
    if not typed.get("exception"):
        raise Refused([Problem("exception", "is needed: tap what it is")])
    kind_of = typed.plan.exception_kinds.get(typed.get("exception"))
    endangers = kind_of is not None and kind_of.effect is Effect.DANGER
    # danger stays danger, whether or not people can vote meanwhile
    effect = None if endangers else _EFFECTS.get(typed.get("vote"))
    day = typed.state.day
    interrupts = effect in (Effect.STOPPED, Effect.IMPAIRED) and day.opened_at is not None and day.closed_at is None
    kind = typed.held.kind if typed.held else Kind.INTERRUPTION if interrupts else Kind.EXCEPTION
    fields = typed.some(kind, "effect", "since", "ends") | _since(typed)
    if effect:
        fields["effect"] = effect.value
    if effect is Effect.STOPPED and "device" in fields:
        # nobody can vote here: that is the place's, whatever device it began with
        fields["note"] = " ".join(str(part) for part in (fields.pop("device"), fields.get("note")) if part)
    yield typed.head(kind) | fields


def _since(typed: Typed) -> Raw:
    minutes = typed.get("since")
    if not minutes.isdecimal() or not 0 < int(minutes[:4]) <= 600:
        return {}
    return {"since": write_moment(typed.base - timedelta(minutes=int(minutes[:4])))}


def _over(typed: Typed) -> Iterator[Raw]:
    """It is over: that ends an interruption that runs; where none does, the office is told in a note."""
    exception, device = typed.get("exception"), typed.get("device")
    runs = any(
        each.ends is None and each.exception == exception and each.device == device
        for each in typed.state.day.interruptions
    )
    where = {"device": device} if device else {}
    if typed.held.kind is Kind.INTERRUPTION if typed.held else runs:
        yield typed.head(Kind.INTERRUPTION) | where | {"exception": exception, "ends": True}
        return
    kind = typed.plan.exception_kinds.get(exception)
    if kind is None:
        raise Refused([Problem("exception", "is needed")])
    yield typed.head(Kind.NOTE) | where | {"note": f"{kind.says}: over, say the officers."}


def _seen(typed: Typed) -> Iterator[Raw]:
    yield typed.head(Kind.MESSAGE_SEEN) | typed.some(Kind.MESSAGE_SEEN)


def _note(typed: Typed) -> Iterator[Raw]:
    yield typed.head(Kind.NOTE) | typed.some(Kind.NOTE)


def _withdraw(typed: Typed) -> Iterator[Raw]:
    head = typed.head(Kind.CORRECTION) | {"happened_at": None}
    yield head | {"corrects": typed.get("corrects"), "withdraw": True, "reason": "sent by mistake"}


FORMS: Mapping[str, Callable[[Typed], Iterable[Raw]]] = MappingProxyType(
    {
        "step": _step,
        "count": _count,
        "help": _help,
        "over": _over,
        "seen": _seen,
        "note": _note,
        "withdraw": _withdraw,
    }
)
