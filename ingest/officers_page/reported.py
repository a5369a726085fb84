"""One report as the sheet shows it back to the officers: when, what was said, and what the office made of it."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from county.domain.cases import Case
from county.domain.custody import BACK
from county.domain.entries import FIELDS, Entry
from county.domain.items import device_of, key_of
from county.domain.plan import Plan
from county.domain.roster import Roster
from ingest.officers_page.asks import ASKS, COUNT, SEALED_ANEW
from ingest.officers_page.told import Told, raised_by, told
from ingest.phone.wall import Wall

Tell = Callable[[Entry], "Reported"]

_LABELS: Mapping[str, str] = MappingProxyType(
    {ask.name: ask.label for asks in (*ASKS.values(), COUNT) for ask in asks}
    | {"public_counter": "Public counter", "seal_intact": "Seal", "note": "Note"}
    | {"items": "Carried", "items_missing": "Not there", "roles": "By"}
)
# in the order in which a form asks for them
_ORDER = tuple(name for name in FIELDS if name not in ("step", "device", "seal_position", "item"))
_OF_ITEMS = ("items", "items_missing")
_DOORS: Mapping[str, str] = MappingProxyType({"text": "by text line", "board": "by the office", "drop": "by a file"})


@dataclass(frozen=True, slots=True)
class Reported:
    """One report: its key, times by the wall, what was said label by label, and the cases it raised or joined."""

    key: str
    at: str
    received: str
    through: str
    said: tuple[tuple[str, str], ...]
    told: tuple[Told, ...]


def teller(cases: tuple[Case, ...], plan: Plan, roster: Roster, wall: Wall) -> Tell:
    """How any report of a place with these cases is shown; `wall` writes a moment as the place's time of day."""

    def tell(entry: Entry) -> Reported:
        return Reported(
            key=entry.key,
            at=wall(entry.happened_at),
            received=wall(entry.received_at),
            through=_DOORS.get(entry.door, ""),
            said=tuple(_said(entry, plan)),
            told=tuple(told(case, plan, roster, wall) for case in raised_by(entry, cases)),
        )

    return tell


def _said(entry: Entry, plan: Plan) -> Iterator[tuple[str, str]]:
    on = entry.device or _called(entry.text("item"), plan)
    if on and entry.text("step") in (SEALED_ANEW, BACK):
        yield "Seal of", " ".join(part for part in (on, entry.text("seal_position")) if part)
    for name in _ORDER:
        value = entry.fields.get(name)
        if isinstance(value, tuple) and name in _OF_ITEMS:
            value = tuple(_called(each, plan) for each in value)
        if value is not None:
            yield _LABELS.get(name, name.replace("_", " ").capitalize()), _written(name, value)


def _called(name: str, plan: Plan) -> str:
    """What people call an item; its name where the plan lists it no more."""
    says = next((item.says for item in plan.items if item.key == key_of(name)), name)
    return ", ".join(part for part in (says, device_of(name)) if part)


def _written(name: str, value: object) -> str:
    if name == "seal_intact":
        return "whole" if value else "not whole"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int):
        return f"{value:,}"
    if isinstance(value, tuple):
        return ", ".join(str(each) for each in value)
    return str(value)
