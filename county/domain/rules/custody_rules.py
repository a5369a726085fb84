"""Rules for what comes back to the office: items that are not there, seals that differ, gaps in who had them."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime

from county.domain.custody import BACK, LEFT, Custody, SealState, custody, is_of_a_seal, of_step, seal_of
from county.domain.entries import Entry
from county.domain.findings import Finding
from county.domain.moments import whole_minutes
from county.domain.rules.scene import Due, Scene

TWO_PEOPLE = 2


def item_missing(scene: Scene) -> Iterator[Finding]:
    """At each receiving: items not there, nor checked in before, though needed or told to have left.

    A device's own item is a finding of that device. An item that turns up later is checked in; a person ends the case.
    """
    for entry, then in _receivings(scene):
        if "items" not in entry.fields and "items_missing" not in entry.fields:
            continue
        for device in dict.fromkeys(each.here.device for each in then.missing):
            missing = [each for each in then.missing if each.here.device == device]
            yield scene.finding(
                "item-missing",
                entry,
                f"not there when received: {', '.join(each.here.says for each in missing)}",
                device=device,
                cause=":".join(part for part in (entry.key, "items", device) if part),
                expected="left the place" if any(each.left for each in missing) else "on the county's list",
                found="not there",
                learned_at=max([entry.received_at, *_told_before(scene, entry)]),
            )


def custody_gap(scene: Scene) -> Iterator[Finding]:
    """At the first receiving: nobody told that it left, or it was longer on the way than the plan allows.

    And at either end: carried or received by one person alone.
    """
    for entry, then in _receivings(scene):
        yield from _unaccounted(scene, entry, then)
        break
    for step, did in ((LEFT, "left with"), (BACK, "was received by")):
        for entry in of_step(scene.steps(step), step, scene.expected):
            roles = entry.fields.get("roles")
            if isinstance(roles, tuple) and len(roles) < TWO_PEOPLE:
                says = f"{did} one person alone: {', '.join(roles)}"
                yield scene.finding(
                    "custody-gap",
                    entry,
                    says,
                    device="",
                    cause=f"{entry.key}:roles",
                    expected="two people",
                    found="one",
                )


def _unaccounted(scene: Scene, entry: Entry, then: Custody) -> Iterator[Finding]:
    if then.left_at is None:
        if any(step.key == LEFT for step in scene.expected.steps):
            says = "received, but nobody told when it left and with whom"
            yield scene.finding("custody-gap", entry, says, device="", cause=f"{entry.key}:left")
        return
    allowed, way = scene.plan.limits.on_the_way, entry.happened_at - then.left_at
    if allowed and way > allowed:
        yield scene.finding(
            "custody-gap",
            entry,
            f"on the way for {whole_minutes(way)} min",
            device="",
            cause=f"{entry.key}:way",
            since=then.left_at + allowed,
            expected=f"at most {whole_minutes(allowed)} min",
            found=f"{whole_minutes(way)} min",
            learned_at=max([entry.received_at, *_told_before(scene, entry)]),
        )


def seal_at_return(scene: Scene) -> Iterator[Finding]:
    """A seal found at the office with another number than the one told when it was put on at closing.

    Where none was told there is nothing to compare with, and a seal that is not whole is another rule's.
    """
    for entry, then in _receivings(scene):
        if not is_of_a_seal(entry):
            continue
        numbers = {(each.on, each.position): each.put_on.text("seal_number") for each in then.seals if each.put_on}
        seal = next((each for each in then.seals if (each.on, each.position) == seal_of(entry, numbers)), None)
        if seal is None or seal.put_on is None or replace(seal, found=entry).state is not SealState.DIFFERS:
            continue
        found, put_on = entry.text("seal_number"), seal.put_on.text("seal_number")
        on = next((each.here.says for each in then.items if each.here.name == seal.on), seal.on)
        where = " ".join(part for part in (seal.position, "seal of", on) if part)
        yield scene.finding(
            "custody-gap",
            entry,
            f"{where}: found {found}, put on {put_on}",
            cause=f"{entry.key}:seal",
            expected=put_on,
            found=found,
            learned_at=max(entry.received_at, seal.put_on.received_at),
        )


def on_the_way_too_long(scene: Scene, now: datetime) -> Iterator[Due]:
    """Left longer ago than the plan allows for the way, and not received."""
    allowed = scene.plan.limits.on_the_way
    left = of_step(scene.steps(LEFT), LEFT, scene.expected)
    if not allowed or not left or scene.day.received_at is not None:
        return
    since = left[0].happened_at + allowed
    if now >= since and any(step.key == BACK for step in scene.expected.steps):
        yield Due(since, "way", f"left and not received for {whole_minutes(allowed)} min")


def _receivings(scene: Scene) -> Iterator[tuple[Entry, Custody]]:
    """Each report of receiving, and the custody as far as it had happened by then: a rule looks back, not ahead."""
    for entry in of_step(scene.steps(BACK), BACK, scene.expected):
        so_far = [each for each in scene.day.steps if (each.happened_at, each.key) <= (entry.happened_at, entry.key)]
        yield entry, custody(so_far, scene.expected, scene.plan.items)


def _told_before(scene: Scene, entry: Entry) -> list[datetime]:
    """When the office learned what was told of the leaving: a difference is known when both ends are."""
    left = of_step(scene.steps(LEFT), LEFT, scene.expected)
    return [each.received_at for each in left if each.happened_at <= entry.happened_at]
