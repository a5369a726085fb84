"""Which place a caller means: by its number, a precinct's, or part of its name or address, typing mistakes forgiven."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import lru_cache

from county.domain.roster import Place, Roster

MOST = 5
LIKE_ENOUGH = 0.72
_WORD = re.compile(r"[^\W_]+")
_LETTERS_DIGITS = re.compile(r"([^\W\d_]*)0*(\d+)([^\W\d_]*)")


@dataclass(frozen=True, slots=True)
class FoundPlace:
    """A place that may be meant: `likeness` from 0 to 1, and whether the words name it by its number or whole name."""

    place: Place
    likeness: float
    named: bool = False


def find_places(said: str, roster: Roster, most: int = MOST) -> tuple[FoundPlace, ...]:
    """The places that may be meant, the likeliest first; empty where none is like what was said.

    A number counts only as it stands, but for leading zeros and missing letters: P014 is found by `p14` and `14`.
    """
    words = _words(said)
    if not words:
        return ()
    found = [each for place in roster.places if (each := _found(said, words, place, roster)).likeness >= LIKE_ENOUGH]
    found.sort(key=lambda each: (not each.named, -each.likeness, each.place.name, each.place.place))
    return tuple(found[:most])


def meant(found: Iterable[FoundPlace]) -> Place | None:
    """The place that must be meant: the only one named, or the only one like it; None where a person chooses."""
    each = tuple(found)
    named = [one for one in each if one.named]
    only = named or each
    return only[0].place if len(only) == 1 else None


def _found(said: str, words: list[str], place: Place, roster: Roster) -> FoundPlace:
    precincts = () if place.serves == "all" else roster.precincts_at.get(place.place, ())
    ids = [place.place, *(precinct.precinct for precinct in precincts)]
    whole = "".join(words)
    if whole in (_bare(place.name), *map(_bare, ids)):
        return FoundPlace(place, 1.0, named=True)
    if any(_same_number(whole, each) for each in ids):
        return FoundPlace(place, 0.99, named=True)
    known = [*_words(place.name), *_words(place.address), *_words(place.city)]
    known += [word for precinct in precincts for word in _words(precinct.name)]
    return FoundPlace(place, sum(_best(word, known) for word in words) / len(words))


def _same_number(said: str, identifier: str) -> bool:
    """Whether a number is meant: the letters before it may be left out, and zeros; no digit may differ."""
    one, other = _LETTERS_DIGITS.fullmatch(said), _LETTERS_DIGITS.fullmatch(_bare(identifier))
    if not one or not other:
        return False
    return one.group(2, 3) == other.group(2, 3) and one[1] in ("", other[1])


def _best(word: str, known: Iterable[str]) -> float:
    return max(_likenesses(word, known), default=0.0)


def _likenesses(word: str, known: Iterable[str]) -> Iterator[float]:
    for other in known:
        if word == other:
            yield 1.0
        elif other.startswith(word):
            yield 0.9 + 0.09 * len(word) / len(other)
        elif not word.isdecimal() and word[:1].isalpha():
            yield 0.95 * _alike(word, other)


@lru_cache(maxsize=20_000)
def _alike(word: str, other: str) -> float:
    """The share of letters in common, for a word typed wrongly, or only begun and typed wrongly."""
    matcher = SequenceMatcher(None, word, other, autojunk=False)
    if matcher.real_quick_ratio() < LIKE_ENOUGH and len(word) >= len(other):
        return 0.0
    begun = SequenceMatcher(None, word, other[: len(word)], autojunk=False).ratio() if len(word) > 3 else 0.0
    return max(matcher.ratio(), begun * 0.97)


def _words(text: str) -> list[str]:
    return _WORD.findall(text.casefold())


def _bare(text: str) -> str:
    return "".join(_words(text))
