"""Which place or device a text line names, and which places a telephone number may speak for."""

import re
from collections.abc import Iterable, Sequence

from county.domain.roster import Place, Roster

_LETTERS_DIGITS = re.compile(r"([a-z]*?)([0-9oil]*[0-9][0-9oil]*)", re.ASCII)
_LIKE_DIGITS = str.maketrans("oil", "011")
_SHORT = 7


def digits(number: str) -> str:
    """A telephone number as digits alone, without the country's 1."""
    only = "".join(c for c in number if c in "0123456789")
    return only[1:] if len(only) == 11 and only.startswith("1") else only


def same_phone(one: str, other: str) -> bool:
    """Whether two numbers are the same telephone; one of them may lack its area code."""
    a, b = digits(one), digits(other)
    if min(len(a), len(b)) < _SHORT:
        return False
    return a == b or (_SHORT in (len(a), len(b)) and a[-_SHORT:] == b[-_SHORT:])


def named(words: Sequence[str], names: Iterable[str]) -> tuple[str, int]:
    """The name these words begin with, and how many of them it took; empty and 0 where none or more than one is meant.

    Case, marks, leading zeros and the letters O, I, L for digits are forgiven; a wrong digit is not.
    """
    known = tuple(names)
    for took in (1, 2):
        said = "".join(words[:took]) if len(words) >= took else ""
        for like in (_bare, _numbered):
            meant = [name for name in known if like(said) and like(name) == like(said)]
            if len(meant) == 1:
                return meant[0], took
    return "", 0


def place_in(words: Sequence[str], roster: Roster) -> tuple[Place | None, int]:
    """The place that the words begin with, by its id or by that of a precinct that votes there."""
    for names in (roster.place_by_id, {precinct.precinct for precinct in roster.precincts}):
        name, took = named(words, names)
        if name:
            return roster.place_of(name), took
    return None, 0


def looks_like_a_place(word: str, roster: Roster) -> bool:
    """Whether a word is written as the places' ids are: the same letters, and digits."""
    letters = {_parts(place)[0] for place in roster.place_by_id}
    begins, number = _parts(word)
    return bool(number) and begins in letters


def _bare(name: str) -> str:
    return "".join(c for c in name.casefold() if c.isalnum())


def _numbered(name: str) -> str:
    letters, number = _parts(name)
    return f"{letters} {int(number)}" if number else ""


def _parts(name: str) -> tuple[str, str]:
    found = _LETTERS_DIGITS.fullmatch(_bare(name))
    return (found[1], found[2].translate(_LIKE_DIGITS)) if found else ("", "")
