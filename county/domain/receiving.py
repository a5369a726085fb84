"""What comes back to the office, as it is taken in there: items ticked, seals read, and the reports that it becomes."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

from county.domain.carriers import CARRIERS
from county.domain.custody import BACK, Custody, SealState, SealWay
from county.domain.entries import Kind
from county.domain.items import key_of
from county.domain.roster import Roster
from county.domain.seals import same_number
from county.errors import Problem, Refused

RECEIVERS = tuple(role for role in CARRIERS if role != "polling-place officer")
"""Who takes it in, by role."""
Seal = tuple[str, str]
"""What a seal is on, an item's name or a device's id, and its position; the position may be empty."""


@dataclass(frozen=True, slots=True)
class SealAsked:
    """A seal whose number is to be read: on what, in words. `item` is the item that it is on, or empty.

    A sealed item that is there must have its seal read; a device need not have come back.
    """

    seal: Seal
    says: str
    item: str = ""


@dataclass(frozen=True, slots=True)
class SealRead:
    """What two people found: the number, and whether it is whole; a seal that is not there has no number."""

    number: str = ""
    whole: bool = True

    @property
    def told(self) -> bool:
        return bool(self.number.strip()) or not self.whole


@dataclass(frozen=True, slots=True)
class Receiving:
    """What was ticked and typed. `looked` says that two people looked for what is not ticked."""

    place: str = ""
    back: frozenset[str] = frozenset()
    seals: Mapping[Seal, SealRead] = field(default_factory=lambda: MappingProxyType({}))
    roles: tuple[str, ...] = ()
    looked: bool = False
    note: str = ""


def seals_to_read(known: Custody) -> tuple[SealAsked, ...]:
    """The seals to read: of each item that travels under one, and each that was told when the place was left."""
    told = [(each.on, each.position) for each in known.seals if each.put_on]
    asked: dict[Seal, SealAsked] = {}
    for way in known.items:
        here = way.here
        seals = [seal for seal in told if seal[0] == here.name] or [(here.name, "")] * here.item.sealed
        for seal in seals:
            where = f"{here.says}, {seal[1]}" if seal[1] else here.says
            asked[seal] = SealAsked(seal, where, here.name)
    for seal in told:
        asked.setdefault(seal, SealAsked(seal, " of ".join(part for part in reversed(seal) if part)))
    return tuple(asked.values())


def not_ticked(said: Receiving, known: Custody) -> tuple[str, ...]:
    """The items, by name, that should be there and are neither ticked nor checked in before."""
    return tuple(
        each.here.name
        for each in known.items
        if each.here.name not in said.back and each.back_at is None and (each.here.item.needed or each.left)
    )


def differing(said: Receiving, known: Custody) -> tuple[tuple[SealAsked, SealState, str], ...]:
    """Seals read that are not as put on: another number or not whole, and the number put on, where it was told."""
    put_on = {(each.on, each.position): each for each in known.seals}
    found = []
    for asked in seals_to_read(known):
        read = said.seals.get(asked.seal, SealRead())
        before = put_on.get(asked.seal, SealWay(*asked.seal)).put_on
        number = before.text("seal_number") if before else ""
        if not read.whole:
            found.append((asked, SealState.NOT_WHOLE, number))
        elif read.told and number and not same_number(read.number, number):
            found.append((asked, SealState.DIFFERS, number))
    return tuple(found)


def reports_of(said: Receiving, key: str, known: Custody | None, roster: Roster) -> list[dict[str, object]]:
    """The receiving as raw reports for intake: one of the place, and one of each seal that was read.

    Refused with everything that is still open, field by field; `known` is None where no place is chosen.
    """
    problems = list(_open(said, known))
    if problems or known is None:
        raise Refused(problems)
    head = {"place": said.place, "kind": Kind.STEP.value, "step": BACK}
    place: dict[str, object] = {**head, "key": key, "roles": list(said.roles), "note": said.note.strip() or None}
    if known.items:
        place["items"] = [each.here.name for each in known.items if each.here.name in said.back] or None
        place["items_missing"] = list(not_ticked(said, known)) or None
    read = [(asked, said.seals[asked.seal]) for asked in seals_to_read(known) if asked.seal in said.seals]
    seals = [
        {**head, "key": f"{key}.{number}", **_seal(asked, found, roster)}
        for number, (asked, found) in enumerate(((a, f) for a, f in read if f.told), 1)
    ]
    return [place, *seals]


def _seal(asked: SealAsked, read: SealRead, roster: Roster) -> dict[str, object]:
    on, position = asked.seal
    where = {"device": on} if on in roster.device_by_id else {"item": on}
    return {
        **where,
        "seal_position": position or None,
        "seal_number": read.number.strip() or None,
        "seal_intact": read.whole,
    }


def _open(said: Receiving, known: Custody | None) -> Iterator[Problem]:
    if known is None:
        yield Problem("place", "Which place? Choose one.")
        return
    missing = not_ticked(said, known)
    if missing and not said.looked:
        yield Problem("looked", f"Not ticked: {_says(missing, known)}. Tick it, or say that two people looked.")
    unread = [
        asked.says
        for asked in seals_to_read(known)
        if asked.item in said.back and not said.seals.get(asked.seal, SealRead()).told
    ]
    if unread:
        yield Problem("seals", f"No number yet: {', '.join(unread)}. Read it, or say that the seal is not whole.")
    if len([role for role in said.roles if role]) < 2:
        yield Problem("roles", "Two people take it in: say both, by role, not by name.")


def _says(names: Sequence[str], known: Custody) -> str:
    called = {each.here.name: each.here.says for each in known.items}
    return ", ".join(called.get(name, key_of(name)) for name in names)
