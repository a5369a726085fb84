"""What a rover must bring and be able to do for a trouble, and whether the roster says that it does."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from county.domain.dispatch_settings import DispatchSettings
from county.domain.roster import Rover


@dataclass(frozen=True, slots=True)
class Wanted:
    """Something to bring or a skill (`name` says which), in words, and whether this rover has it."""

    name: str
    what: str
    has: bool


def wanted_for(exception: str, rover: Rover, settings: DispatchSettings) -> tuple[Wanted, ...]:
    """What this kind of trouble asks of a rover; spare and skill are compared as words, whatever their capitals."""
    return tuple(_wanted(exception, rover, settings))


def _wanted(exception: str, rover: Rover, settings: DispatchSettings) -> Iterator[Wanted]:
    need = settings.need(exception)
    if need.spare:
        yield Wanted(
            "Bring", f"a spare {need.spare}" if need.used_up else need.spare, _among(need.spare, rover.carries)
        )
    if need.skill:
        yield Wanted("Skill", need.skill, _among(need.skill, rover.skills))


def _among(name: str, names: Sequence[str]) -> bool:
    return name.casefold() in (each.casefold() for each in names)
