"""What the roster lacks, or says twice."""

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping

from county.domain.fitting import misfits
from county.domain.plan import Plan
from county.domain.readiness.facts import Facts
from county.domain.roster import Device, Place
from county.domain.stock import ballots_to_supply, registered_at

_BETWEEN = re.compile(r"[\W_]+")


def no_places(facts: Facts) -> Iterator[str]:
    if not facts.roster.places:
        yield "the roster is empty"


def no_scanner(facts: Facts) -> Iterator[str]:
    """A place whose devices are listed, but none of a type on which something is done before it opens."""
    if facts.roster.devices:
        needed = {type_ for step in facts.plan.steps if step.before_opening for type_ in step.types}
        for place in facts.roster.places:
            held = {device.type for device in facts.roster.devices_at.get(place.place, ())}
            if needed and not held & needed:
                yield _place(place)


def no_seals(facts: Facts) -> Iterator[str]:
    checked = _types(facts.plan, "seals-checked")
    for device in facts.roster.devices:
        if device.type in checked and not facts.roster.seals_on.get(device.device):
            yield _device(device)


def no_protective_counter(facts: Facts) -> Iterator[str]:
    counted = _types(facts.plan, "zero-report")
    for device in facts.roster.devices:
        if device.type in counted and device.protective_counter is None:
            yield _device(device)


def one_seal_twice(facts: Facts) -> Iterator[str]:
    """A seal's number is its own: recorded twice, one of the two devices will be held for a mismatch."""
    on: dict[str, list[str]] = defaultdict(list)
    for seal in facts.roster.seals:
        on[_plain(seal.number)].append(f"{seal.device} {seal.position}")
    for number, where in on.items():
        if number and len({each.partition(" ")[0] for each in where}) > 1:
            yield f"{number} on {' and '.join(where)}"


def one_device_at_two_places(facts: Facts) -> Iterator[str]:
    """The same machine under two names: its serial number, or the name itself written otherwise, stands twice."""
    for what, named in (("serial", _by_serial(facts)), ("device", _by_name(facts))):
        for name, devices in named.items():
            if name and len({device.place for device in devices}) > 1:
                yield f"{what} {name}: {' and '.join(map(_device, devices))}"


def no_phone(facts: Facts) -> Iterator[str]:
    return (_place(place) for place in facts.roster.places if not place.phone)


def few_officers(facts: Facts) -> Iterator[str]:
    """Where the roster says how many officers places have: those without any, or with fewer than the plan asks."""
    told = any(place.officers is not None for place in facts.roster.places)
    for place in facts.roster.places if told else ():
        if (place.officers or 0) < facts.plan.limits.officers:
            yield f"{_place(place)}: {place.officers or 'none'}"


def no_hours(facts: Facts) -> Iterator[str]:
    """Hours that make no day, which `fitting` finds."""
    return (f"{each.field}: {each.says}" for each in misfits(facts.roster, facts.plan) if not each.warning)


def own_hours(facts: Facts) -> Iterator[str]:
    usual = facts.plan.election
    for place in facts.roster.places:
        opens, closes = place.opens or usual.opens, place.closes or usual.closes
        if (opens, closes) != (usual.opens, usual.closes):
            yield f"{_place(place)}, {opens:%H:%M} to {closes:%H:%M}"


def does_not_fit(facts: Facts) -> Iterator[str]:
    for each in misfits(facts.roster, facts.plan):
        if each.warning and not each.field.startswith("ladder"):
            yield f"{each.field}: {each.says}"


def no_rovers(facts: Facts) -> Iterator[str]:
    if facts.roster.places and not facts.roster.rovers:
        yield "the roster has no rovers"


def rover_without_phone(facts: Facts) -> Iterator[str]:
    return (f"{rover.rover} {rover.name}" for rover in facts.roster.rovers if not rover.phone)


def zone_without_rover(facts: Facts) -> Iterator[str]:
    if facts.roster.rovers:
        covered = {rover.zone.casefold() for rover in facts.roster.rovers}
        if "" not in covered:  # a rover without a zone goes anywhere
            zones = dict.fromkeys(place.zone for place in facts.roster.places if place.zone)
            yield from (zone for zone in zones if zone.casefold() not in covered)


def too_few_ballots(facts: Facts) -> Iterator[str]:
    turnout = facts.plan.limits.last_turnout
    for place in facts.roster.places if turnout else ():
        registered = registered_at(place, facts.roster)
        if registered is not None and place.ballots_delivered is not None:
            wanted = ballots_to_supply(registered, turnout)
            if place.ballots_delivered < wanted:
                yield f"{_place(place)}: {place.ballots_delivered:,} of {wanted:,}"


def supply_unknown(facts: Facts) -> Iterator[str]:
    if facts.roster.places and not facts.plan.limits.last_turnout:
        yield "the plan does not say the last turnout"
    elif missing := [place for place in facts.roster.places if _supply_unknown(place, facts)]:
        yield from map(_place, missing)


def _supply_unknown(place: Place, facts: Facts) -> bool:
    return place.ballots_delivered is None or registered_at(place, facts.roster) is None


def _types(plan: Plan, step: str) -> frozenset[str]:
    found = plan.step(step)
    return frozenset(found.types) if found else frozenset()


def _by_serial(facts: Facts) -> Mapping[str, list[Device]]:
    return _grouped((_plain(device.serial), device) for device in facts.roster.devices)


def _by_name(facts: Facts) -> Mapping[str, list[Device]]:
    return _grouped((_plain(device.device), device) for device in facts.roster.devices)


def _grouped(pairs: Iterable[tuple[str, Device]]) -> Mapping[str, list[Device]]:
    grouped: dict[str, list[Device]] = defaultdict(list)
    for name, device in pairs:
        grouped[name].append(device)
    return grouped


def _plain(text: str) -> str:
    """A number or name as it is compared: without what people put between its letters and digits."""
    return _BETWEEN.sub("", text.upper())


def _place(place: Place) -> str:
    return f"{place.place} {place.name}"


def _device(device: Device) -> str:
    return f"{device.device} at {device.place}"
