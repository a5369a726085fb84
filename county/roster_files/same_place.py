"""Which rows mean the same place: the same name and address, the same id, or a name that only one place has."""

import re
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

from county.errors import Problem
from county.roster_files.sites import Site

_SAME_WORDS = {
    "street": "st", "road": "rd", "avenue": "ave", "av": "ave", "drive": "dr", "lane": "ln", "boulevard": "blvd",
    "highway": "hwy", "court": "ct", "place": "pl", "circle": "cir", "square": "sq", "parkway": "pkwy",
    "north": "n", "south": "s", "east": "e", "west": "w", "saint": "st", "mount": "mt", "fort": "ft",
    "building": "bldg", "center": "ctr", "centre": "ctr", "elementary": "elem", "school": "sch", "number": "no",
    "and": "", "the": "",
}  # fmt: skip


@dataclass(slots=True)
class Group:
    """The rows of one place."""

    sites: list[Site] = field(default_factory=list)

    @property
    def ids(self) -> tuple[str, ...]:
        """Every id the lists give it, in their order."""
        return tuple(dict.fromkeys(site.id for site in self.sites if site.id))

    def first(self, column: str) -> object:
        """The first thing that is said in a column, or what stands for nothing."""
        said = [value for site in self.sites if (value := getattr(site, column)) not in (None, "")]
        return said[0] if said else getattr(self.sites[0], column)


@dataclass(slots=True)
class Grouped:
    """The groups, which of them each site is in (by `id(site)`), and what was doubtful."""

    groups: list[Group] = field(default_factory=list)
    of: dict[int, Group] = field(default_factory=dict)
    homeless: list[Site] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)


def group(sites: Sequence[Site]) -> Grouped:
    """Every place with its rows. Sites that only name an id or a name join the place that has it, or are `homeless`."""
    grouped = Grouped()
    sites = _without_shared_ids(sites, grouped.problems)
    by_address: dict[tuple[str, str], list[Group]] = defaultdict(list)
    by_name: dict[str, list[Group]] = defaultdict(list)
    by_id: dict[str, Group] = {}

    def put(site: Site, found: Group | None) -> None:
        if found is None:
            found = Group()
            grouped.groups.append(found)
            by_name[plain(site.name)].append(found)
        found.sites.append(site)
        grouped.of[id(site.line)] = found
        by_address[_key(site)] = [*(each for each in by_address[_key(site)] if each is not found), found]
        if site.id:
            by_id.setdefault(site.id, found)

    for site in (each for each in sites if each.address):
        put(site, _of_same_town(site, by_address[_key(site)]) or by_id.get(site.id))
    for site in (each for each in sites if not each.address):
        named = by_name[plain(site.name)] if site.name else []
        found = by_id.get(site.id) if site.id else None
        if found is None and len(named) > 1:
            says = f"{site.name} is the name of {len(named)} places; their addresses or ids would tell which is meant"
            grouped.problems.append(site.line.problem("name", says))
        elif found is None and not named and not site.name:
            grouped.homeless.append(site)
        else:
            put(site, found or next(iter(named), None))
    return grouped


@lru_cache(maxsize=65_536)
def plain(text: str) -> str:
    """A name or an address as it is compared: small letters, no punctuation, one form for words often cut short."""
    words = re.findall(r"[^\W_]+", text.casefold().replace("'", "").replace("’", ""))
    return " ".join(short for word in words if (short := _SAME_WORDS.get(word, word)))


def _key(site: Site) -> tuple[str, str]:
    return plain(site.name), plain(site.address)


def _of_same_town(site: Site, groups: Iterable[Group]) -> Group | None:
    town = plain(site.city)
    for each in groups:
        towns = {plain(other.city) for other in each.sites if other.city}
        if not town or not towns or town in towns:
            return each
    return None


def _without_shared_ids(sites: Sequence[Site], problems: list[Problem]) -> list[Site]:
    """An id that stands for different places tells nothing, so it is not used, and said."""
    meant: dict[str, Site] = {}
    shared: dict[str, tuple[Site, Site]] = {}
    for site in sites:
        if site.id and site.name:
            first = meant.setdefault(site.id, site)
            if plain(first.name) != plain(site.name) and (
                plain(first.address) != plain(site.address) or not site.address
            ):
                shared.setdefault(site.id, (first, site))
    for same, (first, other) in shared.items():
        says = f"{same} is {first.name} in row {first.line.row} and {other.name} here, so this id is not used"
        problems.append(other.line.problem("place", says, warning=True))
    return [replace(site, id="") if site.id in shared else site for site in sites]
