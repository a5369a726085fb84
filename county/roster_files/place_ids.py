"""Which id each place gets: the one it has, the list's own, or the next free number; never another's."""

import re
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from itertools import count

from county.domain.roster import Place
from county.roster_files import cells
from county.roster_files.same_place import Group, plain

_PREFIXES = ("L", "V", "S", "Z", "PL")
_UNFIT = re.compile(r"[^A-Za-z0-9_:-]+")
_DIGITS = 3
_Mark = str | tuple[str, ...]
_Marks = Callable[[str, Iterable[str], str, str], Sequence[_Mark]]


def place_ids(groups: Sequence[Group], standing: Sequence[Place], precincts: Collection[str]) -> list[str]:
    """One id for each group, in order: loaded again, a place keeps the id it has, for cards and keys carry it.

    `precincts` are all precinct ids: a place never gets one of them, for a report to that id could mean either.
    """
    kept = _kept(groups, standing)
    prefix = next((each for each in _PREFIXES if not _begin(each, precincts)), "PL")
    taken = {place.place for place in standing}
    numbers = _numbers(prefix, taken)
    ids: list[str] = []
    for position, each in enumerate(groups):
        chosen = kept.get(position) or _own(each, prefix, taken, precincts)
        while not chosen or (position not in kept and chosen in taken):
            chosen = f"{prefix}{next(numbers):0{_DIGITS}}"
        taken.add(chosen)
        ids.append(chosen)
    return ids


def other_ids(each: Group, chosen: str, places: Collection[str], precincts: Collection[str]) -> tuple[str, ...]:
    """The list's other ids for a place, as far as they mean nothing else."""
    return tuple(
        said for said in map(_fit, each.ids) if said and said != chosen and said not in places and said not in precincts
    )


def _kept(groups: Sequence[Group], standing: Sequence[Place]) -> dict[int, str]:
    """The groups that stand already: by id first, then by name and address, by address, by name."""
    found: dict[int, str] = {}
    left = {place.place: place for place in standing}
    ways_of_knowing: tuple[_Marks, ...] = (_by_id, _by_name_and_address, _by_address, _by_name)
    for ways in ways_of_knowing:
        marks: dict[_Mark, list[str]] = {}
        for place in left.values():
            for mark in ways(place.place, place.also, place.name, place.address):
                marks.setdefault(mark, []).append(place.place)
        wanted: dict[_Mark, list[int]] = {}
        for number, each in enumerate(groups):
            if number not in found:
                for mark in ways("", each.ids, str(each.first("name")), str(each.first("address"))):
                    wanted.setdefault(mark, []).append(number)
        for mark, numbers in wanted.items():
            candidates = [place for place in marks.get(mark, []) if place in left]
            if len(candidates) == 1 and len(numbers) == 1 and numbers[0] not in found:
                found[numbers[0]] = candidates[0]
                del left[candidates[0]]
    return found


def _by_id(place: str, also: Iterable[str], name: str, address: str) -> list[str]:
    return [_fit(each) for each in (place, *also) if each]


def _by_name_and_address(place: str, also: Iterable[str], name: str, address: str) -> list[tuple[str, str]]:
    return [(plain(name), plain(address))]


def _by_address(place: str, also: Iterable[str], name: str, address: str) -> list[str]:
    return [plain(address)] if address else []


def _by_name(place: str, also: Iterable[str], name: str, address: str) -> list[str]:
    return [plain(name)] if name else []


def _own(each: Group, prefix: str, taken: Collection[str], precincts: Collection[str]) -> str:
    """The list's own id, with a letter before it where a precinct has the same; empty where it has none to use."""
    for said in filter(None, map(_fit, each.ids)):
        for candidate in (said, f"{prefix}{said}"):
            if candidate not in taken and candidate not in precincts and len(candidate) <= 32:
                return candidate
    return ""


def _numbers(prefix: str, taken: Iterable[str]) -> Iterator[int]:
    """The numbers after the highest that was ever given."""
    given = [int(each[len(prefix) :]) for each in taken if re.fullmatch(rf"{prefix}\d{{1,9}}", each)]
    return count(max(given, default=0) + 1)


def _begin(prefix: str, precincts: Collection[str]) -> bool:
    return any(re.fullmatch(rf"{prefix}\d+.*", each, re.IGNORECASE) for each in precincts)


def _fit(said: str) -> str:
    """The id as it may stand in an address and a text message; empty where nothing of it may."""
    fitted = _UNFIT.sub("-", said.strip()).strip("-_:")[:32]
    try:
        return cells.identifier(fitted)
    except ValueError:
        return ""
