"""Custody of one place's material: what left and what came back, seal by seal and item by item, and how they differ."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from county.domain.entries import Entry
from county.domain.expected import Expected
from county.domain.items import Item, ItemHere, items_at, meant
from county.domain.seals import position_of, same_number

LEFT, BACK = "departed", "received"


class SealState(StrEnum):
    """How a seal found at the office stands to the one put on at closing. Not checked is unknown, never good."""

    AGREES = "as put on"
    DIFFERS = "another number"
    NOT_WHOLE = "not whole, or not there"
    NO_NUMBER = "no number told at closing"
    NOT_CHECKED = "not checked"


@dataclass(frozen=True, slots=True)
class SealWay:
    """One seal's way, on a device or on an item (`on`): the report that it was put on, the report that it was found."""

    on: str
    position: str
    put_on: Entry | None = None
    found: Entry | None = None

    @property
    def state(self) -> SealState:
        if self.found is None:
            return SealState.NOT_CHECKED
        number = self.found.text("seal_number")
        if self.found.fields.get("seal_intact") is False or not number:
            return SealState.NOT_WHOLE
        if self.put_on is None:
            return SealState.NO_NUMBER
        same = same_number(number, self.put_on.text("seal_number"))
        return SealState.AGREES if same else SealState.DIFFERS


@dataclass(frozen=True, slots=True)
class ItemWay:
    """One item's way. `left` is None where nobody told what left; `checked` where the office went through the items.

    `back_at` is when it was checked in; `looked_for` that the office told it was not there.
    """

    here: ItemHere
    left: bool | None
    checked: bool
    back_at: datetime | None = None
    looked_for: bool = False

    @property
    def missing(self) -> bool:
        """Not there when the office looked, though it is needed or was told to have left."""
        wanted = self.here.item.needed or bool(self.left)
        return self.back_at is None and (self.looked_for or (self.checked and wanted))


@dataclass(frozen=True, slots=True)
class Custody:
    """What is told of one place's material; times aware UTC, people by role. What nobody told is None or empty."""

    left_at: datetime | None
    back_at: datetime | None
    carried_by: tuple[str, ...]
    received_by: tuple[str, ...]
    items: tuple[ItemWay, ...]
    seals: tuple[SealWay, ...]

    @property
    def missing(self) -> tuple[ItemWay, ...]:
        return tuple(each for each in self.items if each.missing)

    @property
    def wrong_seals(self) -> tuple[SealWay, ...]:
        """Seals that came back with another number, or not whole."""
        return tuple(each for each in self.seals if each.state in (SealState.DIFFERS, SealState.NOT_WHOLE))

    @property
    def unchecked_seals(self) -> tuple[SealWay, ...]:
        """Seals that were put on and that the office has not told of."""
        return tuple(each for each in self.seals if each.state is SealState.NOT_CHECKED)

    def way(self, now: datetime) -> timedelta | None:
        """How long the material was on the way, or is by `now`; None where nobody told when it left."""
        if self.left_at is None:
            return None
        return max(timedelta(0), (self.back_at or now) - self.left_at)


def custody(steps: Iterable[Entry], expected: Expected, items: Sequence[Item]) -> Custody:
    """The custody of one place's material, of the reports of steps that stand, in the order they happened.

    Source: EAC Chain of Custody Best Practices (2021): two people, seals and items written down at both ends.
    """
    told = tuple(steps)
    left, back = of_step(told, LEFT, expected), of_step(told, BACK, expected)
    return Custody(
        left_at=left[0].happened_at if left else None,
        back_at=back[0].happened_at if back else None,
        carried_by=_roles(left),
        received_by=_roles(back),
        items=tuple(_items(left, back, items_at(expected.device_types, items))),
        seals=tuple(_seals(left, back)),
    )


def of_step(steps: Iterable[Entry], step: str, expected: Expected) -> list[Entry]:
    """The reports of this step on the day itself; what was told at a training says nothing."""
    begins = expected.step_from.get(step)
    return [
        entry for entry in steps if entry.fields.get("step") == step and (begins is None or entry.happened_at >= begins)
    ]


def _roles(reports: Iterable[Entry]) -> tuple[str, ...]:
    """The people told last."""
    told = [roles for each in reports if isinstance(roles := each.fields.get("roles"), tuple)]
    return told[-1] if told else ()


def _items(left: Sequence[Entry], back: Sequence[Entry], here: Sequence[ItemHere]) -> Iterator[ItemWay]:
    gone = [_named(entry, "items", here) for entry in left if "items" in entry.fields]
    checked = [entry for entry in back if "items" in entry.fields or "items_missing" in entry.fields]
    back_at: dict[str, datetime] = {}
    for entry in checked:
        for name in _named(entry, "items", here):
            back_at.setdefault(name, entry.happened_at)
    not_there = frozenset[str]().union(*(_named(entry, "items_missing", here) for entry in checked))
    for each in here:
        yield ItemWay(
            here=each,
            left=any(each.name in names for names in gone) if gone else None,
            checked=any("items" in entry.fields for entry in checked),
            back_at=back_at.get(each.name),
            looked_for=each.name in not_there,
        )


def _named(entry: Entry, field: str, here: Sequence[ItemHere]) -> frozenset[str]:
    names = entry.fields.get(field)
    return meant(names, here) if isinstance(names, tuple) else frozenset()


def _seals(left: Sequence[Entry], back: Sequence[Entry]) -> Iterator[SealWay]:
    """Every seal told at either end, once; of several reports of one the last counts."""
    put_on = {seal_of(entry): entry for entry in left if entry.text("seal_number")}
    numbers = {seal: entry.text("seal_number") for seal, entry in put_on.items()}
    found = {seal_of(entry, numbers): entry for entry in back if is_of_a_seal(entry)}
    for on, position in dict.fromkeys((*put_on, *found)):
        yield SealWay(on, position, put_on.get((on, position)), found.get((on, position)))


def is_of_a_seal(entry: Entry) -> bool:
    """Whether a report says something of a seal."""
    return "seal_number" in entry.fields or "seal_intact" in entry.fields


def seal_of(entry: Entry, known: Mapping[tuple[str, str], str] | None = None) -> tuple[str, str]:
    """What the seal is on, an item or a device, and its position, in the words in which it is known already."""
    on = entry.text("item") or entry.device
    positions = {position: number for (of, position), number in (known or {}).items() if of == on}
    return on, position_of(entry, positions)
