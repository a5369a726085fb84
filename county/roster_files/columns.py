"""Which column says what, guessed from its header and from its values; every doubt is said."""

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field

from county.roster_files.header_names import FAINT, OTHER, PLACE, SURE, named
from county.roster_files.header_words import header_words
from county.roster_files.looks_like import looks_like_lists, looks_like_name_and_address, share

_TIMES = re.compile(r"\d{1,2}:\d{2}(?::\d{2})?\s*(?:[ap]\.?m\.?)?|\d{1,2}\s*[ap]\.?m\.?|noon", re.IGNORECASE)
_MADE_UP = (
    (
        "address",
        re.compile(
            rf"(?:{PLACE} )?(?:house number|street(?: name| number| type| suffix)?|(?:address|line)(?: line)? ?[123])"
        ),
        2,
    ),
    ("precincts", re.compile(r"precinct(?: number)? ?\d{1,2}"), 2),
    ("precinct", re.compile(r"(?:ward|district|division|ed|polling district)(?: number)?"), 2),
)
"""What may stand in several columns: the field, the words of each of them, and how many there must be."""


@dataclass(frozen=True, slots=True)
class Guess:
    """A column map for one list, with all that a person needs to confirm it or put it right.

    `columns` says which headers make up each field; `doubts` is empty where nothing had to be assumed.
    """

    file: str
    sheet: str
    header_row: int
    headers: tuple[str, ...]
    columns: Mapping[str, tuple[str, ...]]
    doubts: tuple[str, ...] = ()
    confirmed: bool = False
    sample: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    @property
    def left_out(self) -> tuple[str, ...]:
        """The headers that mean nothing here."""
        used = {header for headers in self.columns.values() for header in headers}
        return tuple(header for header in self.headers if header not in used)

    @property
    def sure(self) -> bool:
        """Whether it may be used without a person's confirming it."""
        return self.confirmed or not self.doubts


@dataclass(frozen=True, slots=True)
class _Likely:
    score: float
    field: str
    position: int
    sureness: int


def guess_columns(
    headers: Sequence[str], values: Sequence[Sequence[str]]
) -> tuple[dict[str, tuple[str, ...]], list[str]]:
    """Field to headers, and what is doubtful about it; `values` are each column's, as many as are worth looking at."""
    words = [header_words(header) for header in headers]
    chosen: dict[str, int] = {}
    doubts: list[str] = []
    for likely in _likely(words, values):
        rival = chosen.get(likely.field)
        if likely.position in chosen.values():
            continue
        if rival is not None:
            if likely.score >= SURE and likely.field in ("name", "precinct") and likely.sureness == SURE:
                doubts.append(f"'{headers[likely.position]}' could be the {likely.field} as well as '{headers[rival]}'")
            continue
        chosen[likely.field] = likely.position
        if likely.sureness == FAINT:
            doubts.append(f"'{headers[likely.position]}' is taken for the {likely.field}; its header hardly says so")
    together = _together(chosen, words, values)
    taken = {position for positions in together.values() for position in positions}
    chosen = {each: n for each, n in chosen.items() if each in together or n not in taken}
    _cells_of_two_things(chosen, values)
    _by_values(chosen, headers, values, words, doubts, taken)
    _two_times(chosen, headers, values, doubts)
    columns: dict[str, tuple[str, ...]] = {each: (headers[n],) for each, n in chosen.items()}
    columns |= {each: tuple(headers[n] for n in positions) for each, positions in together.items()}
    if "precincts" in together:
        columns.pop("precinct", None)
    if not {"name", "place", "name_address"} & columns.keys():
        doubts.append("no column names the place")
    return columns, doubts


def _likely(words: Sequence[str], values: Sequence[Sequence[str]]) -> list[_Likely]:
    """Every column with every field its header may mean, likeliest first."""
    found = []
    for position, said in enumerate(words):
        for name, sureness in named(said):
            fits = share(name, values[position])
            if fits > 0.3:
                found.append(_Likely(sureness * fits, name, position, sureness))
    return sorted(found, key=lambda each: (-each.score, each.position))


def _by_values(
    chosen: dict[str, int],
    headers: Sequence[str],
    values: Sequence[Sequence[str]],
    words: Sequence[str],
    doubts: list[str],
    taken: Collection[int],
) -> None:
    """What no header names but the values show: times, a street address, a name."""
    wanted = [each for each in ("hours", "address", "name") if each not in chosen]
    if taken:
        wanted = [each for each in wanted if each != "address"]
    if "name_address" in chosen:
        wanted = [each for each in wanted if each == "hours"]
    if {"opens", "closes"} & chosen.keys():
        wanted = [each for each in wanted if each != "hours"]
    for each in wanted:
        used = {*chosen.values(), *taken}
        free = [n for n in range(len(headers)) if n not in used and not OTHER.search(words[n])]
        fits = {n: share(each, values[n]) for n in free if any(v.strip() for v in values[n])}
        if each == "name":
            fits = {n: fit * len(set(values[n])) / max(1, len(values[n])) for n, fit in fits.items()}
        best = max(fits, key=lambda n: fits[n], default=None)
        if best is not None and fits[best] >= (0.3 if each == "name" else 0.8):
            chosen[each] = best
            doubts.append(f"'{headers[best]}' is taken for the {each} by its values; its header does not say so")


def _two_times(
    chosen: dict[str, int], headers: Sequence[str], values: Sequence[Sequence[str]], doubts: list[str]
) -> None:
    """Two columns of times side by side, under whatever headers, are when a place opens and closes."""
    if {"hours", "opens", "closes"} & chosen.keys():
        return
    free = [n for n in range(len(headers)) if n not in chosen.values() and any(_TIMES.fullmatch(v) for v in values[n])]
    times = [n for n in free if all(_TIMES.fullmatch(value) for value in values[n] if value)]
    if len(times) == 2 and times[1] == times[0] + 1:
        chosen["opens"], chosen["closes"] = times
        doubts.append(f"'{headers[times[0]]}' and '{headers[times[1]]}' are taken for opens and closes by their values")


def _cells_of_two_things(chosen: dict[str, int], values: Sequence[Sequence[str]]) -> None:
    """A precinct column whose cells hold several, and an address that begins with the name, are the other ones."""
    if "precincts" not in chosen and "precinct" in chosen and looks_like_lists(values[chosen["precinct"]]):
        chosen["precincts"] = chosen.pop("precinct")
    if "name" not in chosen and "address" in chosen and looks_like_name_and_address(values[chosen["address"]]):
        chosen["name_address"] = chosen.pop("address")


def _together(
    chosen: dict[str, int], words: Sequence[str], values: Sequence[Sequence[str]]
) -> dict[str, tuple[int, ...]]:
    """What several columns make up: an address in parts; a ward with its district; a column for each precinct."""
    found: dict[str, tuple[int, ...]] = {}
    for each, parts, least in _MADE_UP:
        others = {position for other, position in chosen.items() if other not in (each, "precinct")}
        positions = [n for n, said in enumerate(words) if n not in others and parts.fullmatch(said)]
        if each == "precinct" and (each not in chosen or chosen[each] not in positions):
            continue
        if each == "precinct":
            positions = [n for n in positions if share(each, values[n]) > 0.8]
        if len(positions) >= least or (positions and each == "address" and each not in chosen):
            also = [chosen[each]] if each in chosen else []
            found[each] = tuple(sorted({*positions, *also}))
    return found
