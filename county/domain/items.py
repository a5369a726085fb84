"""What a place takes to the office at the end of the day: the plan's [[item]] table, as it falls on one place."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

_OF_A_DEVICE = ":"


@dataclass(frozen=True, slots=True)
class Item:
    """One row of the plan's table; `types` are the device types there is one for each of, none: one for the place.

    `needed`: it is missing at the office wherever it is not there; otherwise only where it was told to have left.
    `sealed`: it travels under a seal, whose number is written down at both ends.
    """

    key: str
    says: str
    types: tuple[str, ...] = ()
    needed: bool = True
    sealed: bool = False


@dataclass(frozen=True, slots=True)
class ItemHere:
    """An item of one place, known by `name`: its key, and where there is one a device, `memory:SC-0141`."""

    item: Item
    device: str = ""

    @property
    def name(self) -> str:
        return f"{self.item.key}{_OF_A_DEVICE}{self.device}" if self.device else self.item.key

    @property
    def says(self) -> str:
        """What people call it."""
        return f"{self.item.says}, {self.device}" if self.device else self.item.says


def items_at(device_types: Mapping[str, str], items: Iterable[Item]) -> tuple[ItemHere, ...]:
    """Every item of a place with these devices, in the plan's order, device by device."""
    return tuple(_here(device_types, items))


def _here(device_types: Mapping[str, str], items: Iterable[Item]) -> Iterator[ItemHere]:
    for item in items:
        if not item.types:
            yield ItemHere(item)
        for device, type_ in device_types.items():
            if type_ in item.types:
                yield ItemHere(item, device)


def key_of(name: str) -> str:
    """The plan's key in an item's name."""
    return name.partition(_OF_A_DEVICE)[0]


def device_of(name: str) -> str:
    """The device in an item's name; empty where there is none."""
    return name.partition(_OF_A_DEVICE)[2]


def meant(names: Iterable[str], here: Iterable[ItemHere]) -> frozenset[str]:
    """The names of the items that are meant; a key alone means the item of every device."""
    said = frozenset(names)
    return frozenset(each.name for each in here if each.name in said or each.item.key in said)
