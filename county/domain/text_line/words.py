"""Words as tired people type them, matched to the words that are known."""

import re
import unicodedata
from collections.abc import Iterable

_SPLIT = re.compile(r"(?:[\s,;=/|+&]|:(?!\d)|(?<!\d):)+")
_THOUSANDS = re.compile(r"(?<=\d),(?=\d{3}(?!\d))")
_GLUED = re.compile(r"(?<![^\s,;:=/|+&])([A-Za-z]{3,})(?=\d)", re.ASCII)
_EDGE = "\"'`.!()[]{}<>*_~“”‘’…"
# the longest known words may have two slips of the finger in them, short ones none
_SLIPS = ((6, 2), (4, 1))


def plain(text: str) -> str:
    """The first line that says anything, in one form of letters and digits, without what cannot be seen."""
    same = unicodedata.normalize("NFKC", text[:2_000])
    lines = (
        " ".join("".join(c if unicodedata.category(c)[0] != "C" else " " for c in line).split())
        for line in re.split(r"[\r\n\u2028\u2029]+", same)
    )
    return next((line for line in lines if line), "")


def words_of(text: str) -> list[str]:
    """The words of a line as typed, without the marks around and between them; 1,204 is one, count412 is two."""
    joined = _GLUED.sub(r"\1 ", _THOUSANDS.sub("", text))
    return [word for word in (part.strip(_EDGE) for part in _SPLIT.split(joined)) if word]


def closest(typed: str, known: Iterable[str]) -> str | None:
    """The known word that is meant: itself, the only one it begins, or the one nearest by slips; None where unclear."""
    word = typed.casefold()
    known = tuple(dict.fromkeys(known))
    if word in known:
        return word
    begun = [each for each in known if len(word) >= 3 and each.startswith(word)]
    if len(begun) == 1:
        return begun[0]
    near = sorted((slips(word, each), each) for each in known if slips(word, each) <= _allowed(each))
    if not near or (len(near) > 1 and near[0][0] == near[1][0]):
        return None
    return near[0][1]


def slips(one: str, other: str) -> int:
    """How many slips turn one word into the other: a letter left out, put in, wrong, or two swapped."""
    if abs(len(one) - len(other)) > 2:
        return 9
    before: list[int] = []
    row = list(range(len(other) + 1))
    for i, a in enumerate(one, 1):
        older, before, row = before, row, [i]
        for j, b in enumerate(other, 1):
            cost = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (a != b))
            if older and j > 1 and a == other[j - 2] and one[i - 2] == b:
                cost = min(cost, older[j - 2] + 1)
            row.append(cost)
    return row[-1]


def _allowed(known: str) -> int:
    return next((slips_ for length, slips_ in _SLIPS if len(known) >= length and known.isalpha()), 0)
