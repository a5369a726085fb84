"""What a place takes to the office on a made-up day, and how it is taken in there: items, new seals, two people."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from random import Random
from types import MappingProxyType

from county.domain.custody import BACK, LEFT
from county.domain.expected import Expected
from county.domain.items import Item, ItemHere, items_at
from county.rehearsal.luck import Luck
from county.rehearsal.sent import chance
from county.rehearsal.sheet import Sheet

NOT_THERE, OTHER_SEAL = "an item not there", "a seal that differs"
CARRY, RECEIVE = ("officer in charge", "polling-place officer"), ("receiving clerk", "second receiving clerk")
Fields = dict[str, object]


@dataclass(frozen=True, slots=True)
class Material:
    """What one place carries: its items, and the seal on each sealed one and on each scanner."""

    items: tuple[ItemHere, ...]
    seals: tuple[tuple[ItemHere | str, str, str], ...]


def material(expected: Expected, items: Sequence[Item], rng: Random) -> Material:
    """Pack it: a new number on every seal, an item's and the first of each scanner's positions."""
    here = items_at(expected.device_types, items)
    sealed: list[tuple[ItemHere | str, str]] = [(each, "") for each in here if each.item.sealed]
    sealed += [
        (scanner, position) for scanner in expected.scanners for position in list(expected.seals.get(scanner, {}))[:1]
    ]
    numbers = rng.sample(range(500_000, 900_000), len(sealed))
    return Material(here, tuple((on, at, str(number)) for (on, at), number in zip(sealed, numbers, strict=True)))


def leave(sheet: Sheet, at: datetime, carried: Material, luck: Luck) -> None:
    """Tell what leaves, who carries it, and each seal put on."""
    names = [each.name for each in carried.items]
    sheet.tell(at, {"kind": "step", "step": LEFT, "roles": list(CARRY)} | ({"items": names} if names else {}))
    for on, position, number in carried.seals:
        sheet.tell(at, _seal(LEFT, on, position, number))


def take_in(sheet: Sheet, at: datetime, carried: Material, luck: Luck) -> None:
    """Tell what came, who took it in, and the seals on the items; scanners come back another day."""
    rng = chance(sheet.run, sheet.place, "taking in")
    missing = rng.choice(carried.items).name if carried.items and sheet.place in luck.not_there else ""
    there = [each.name for each in carried.items if each.name != missing]
    told: Fields = {"kind": "step", "step": BACK, "roles": list(RECEIVE)}
    told |= {"items": there} if there else {}
    sheet.tell(at, told | ({"items_missing": [missing]} if missing else {}), NOT_THERE if missing else "")
    found = [seal for seal in carried.seals if isinstance(seal[0], ItemHere) and seal[0].name != missing]
    differs = rng.randrange(len(found)) if found and sheet.place in luck.other_seal else None
    for number, (on, position, put_on) in enumerate(found):
        read, plays = (_another(put_on), OTHER_SEAL) if number == differs else (put_on, "")
        sheet.tell(at, _seal(BACK, on, position, read), plays)


def _seal(step: str, on: ItemHere | str, position: str, number: str) -> Fields:
    where: Fields = {"item": on.name} if isinstance(on, ItemHere) else {"device": on, "seal_position": position}
    return {"kind": "step", "step": step, **where, "seal_number": number} | (
        {"seal_intact": True} if step == BACK else {}
    )


def _another(number: str) -> str:
    """The number with its last two digits the other way round; another last digit where these are the same."""
    turned = f"{number[:-2]}{number[-1]}{number[-2]}"
    return turned if turned != number else f"{number[:-1]}{(int(number[-1]) + 1) % 10}"


CARRYING: Mapping[str, Callable[[Sheet, datetime, Material, Luck], None]] = MappingProxyType(
    {LEFT: leave, BACK: take_in}
)
"""How the two ends of the way are told."""
