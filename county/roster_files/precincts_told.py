"""The precincts of the lists: splits joined, repeated rows counted once, and the place each one votes at."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from county.domain.roster import Precinct
from county.errors import Problem
from county.roster_files.lines import Line
from county.roster_files.sites import Site, Votes

ANYWHERE = 0.5
"""Where more than this share of the precincts vote at several places each, the places are vote centres."""

PlaceOf = Callable[[Site], str | None]


@dataclass(slots=True)
class Precincts:
    """Each precinct's line with its value; the places that serve everybody; what was doubtful, what was joined."""

    lines: list[Line]
    centres: frozenset[str]
    problems: list[Problem]
    notes: list[Problem]


def precincts_told(votes: Sequence[Votes], place_of: PlaceOf) -> Precincts:
    """One precinct an id. A split that votes elsewhere than the rest of its precinct stands by itself."""
    together: dict[str, list[Votes]] = {}
    for each in votes:
        together.setdefault(each.precinct, []).append(each)
    several = [told for told in together.values() if not _parted(told) and len(_places(told, place_of)) > 1]
    found = Precincts([], frozenset(), [], [])
    if several and len(several) > ANYWHERE * len(together):
        found.centres = frozenset(place for told in several for place in _places(told, place_of))
    for told in together.values():
        _take(told, place_of, found)
    return found


def _take(told: list[Votes], place_of: PlaceOf, found: Precincts) -> None:
    first, places = told[0], _places(told, place_of)
    if len(places) > 1 and _parted(told):
        for split in dict.fromkeys(each.split for each in told):
            own = [replace(each, precinct=f"{each.precinct}-{split}") for each in told if each.split == split]
            _take([replace(each, split="") for each in own], place_of, found)
        says = f"the splits of precinct {first.precinct} vote at {len(places)} places, so each stands by itself"
        found.notes.append(first.line.problem("split", says))
        return
    if len(places) > 1 and not found.centres:
        other = next(each for each in told if each.site and place_of(each.site) == places[1])
        says = f"precinct {first.precinct} votes at {places[0]} in row {first.line.row} and at {places[1]} here"
        found.problems.append(other.line.problem("name", says))
        return
    registered = _registered(told, found)
    place = "" if found.centres and len(places) > 1 else next(iter(places), "")
    found.lines.append(first.line.with_value(Precinct(first.precinct, first.name, place, registered)))


def _registered(told: list[Votes], found: Precincts) -> int | None:
    first, splits = told[0], {each.split for each in told}
    # a repeated row says the same number again; each split has a number of its own
    parts = {(each.split, each.registered) for each in told if each.registered is not None}
    if len(told) > 1 and len(splits) > 1:
        found.notes.append(
            first.line.problem("split", f"the {len(splits)} splits of {first.precinct} are one precinct")
        )
    elif len(told) > 1 and len(parts) > 1:
        says = f"precinct {first.precinct} has {len(parts)} numbers of registered voters; the first is taken"
        found.problems.append(told[1].line.problem("registered", says, warning=True))
        return first.registered
    elif len(told) > 1:
        found.notes.append(told[1].line.problem("precinct", f"precinct {first.precinct} is told {len(told)} times"))
    return sum(number or 0 for _, number in parts) if parts else None


def _parted(told: Iterable[Votes]) -> bool:
    """Whether the rows of a precinct are its splits."""
    splits = [each.split for each in told]
    return all(splits) and len(set(splits)) > 1


def _places(told: Iterable[Votes], place_of: PlaceOf) -> list[str]:
    return list(dict.fromkeys(place for each in told if each.site and (place := place_of(each.site))))
