"""Names of staff and telephone numbers: who is named in a ledger and its lists, and what stands there instead."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from county.domain.entries import Entry
from county.domain.plan import Plan
from county.domain.roster import Roster

OF_THE_OFFICE = frozenset(
    {
        "",
        "clock",
        "notices",
        "roster",
        "people",
        "file",
        "the office",
        "the plan file",
        "the facts",
        "unknown number",
        "rehearsal",
    }
)
"""Words in an entry's `by` and `sender` that name nobody."""

PHONE_LEFT_OUT, ADDRESS_LEFT_OUT = "[telephone number]", "[address]"
_PERSONAL = ("person",)
_SENDER_OF_A_PERSON = ("desk", "board", "person", "rover")
_BY_TEXT = " by text"
# 555-0123, (608) 555-0123, +1 608 555 0123: never the digits of a counter, a seal or a time of day
_PHONE = re.compile(r"(?<![\w.-])(?:\+?1[ .-])?(?:\(\d{3}\) ?|\d{3}[ .-])?\d{3}[ .-]\d{4}(?![\w-])", re.ASCII)
_ADDRESS = re.compile(r"[\w.+%-]{1,64}@[\w-]{1,63}(?:\.[\w-]{1,63})+")
_PART = re.compile(r"[^\W\d_]{3,}")


@dataclass(frozen=True)
class Names:
    """Each person's name to what stands for it; `words` are those of places, which are nobody's name."""

    stand_ins: Mapping[str, str]
    words: frozenset[str] = frozenset()
    _seen: dict[str, str] = field(default_factory=dict, init=False, repr=False, compare=False)

    def of(self, name: str) -> str:
        """What stands for a name; the name itself where it is nobody's."""
        return self.stand_ins.get(name, name)

    def left_out_of(self, text: str) -> str:
        """The text without known names, telephone numbers and e-mail addresses."""
        # a day says the same few things ten thousand times
        found = self._seen.get(text)
        if found is None:
            found = self._seen[text] = self._left_out_of(text)
        return found

    def _left_out_of(self, text: str) -> str:
        text = _ADDRESS.sub(ADDRESS_LEFT_OUT, text)
        return _PHONE.sub(PHONE_LEFT_OUT, self._known.sub(self._stand_in, text) if self._parts else text)

    def _stand_in(self, found: "re.Match[str]") -> str:
        return self._parts[found[0].casefold()]

    @cached_property
    def _parts(self) -> Mapping[str, str]:
        """Whole names, and each part of one that begins with a capital and is no word of a place's."""
        parts: dict[str, str] = {}
        for name, stand_in in sorted(self.stand_ins.items()):
            for part in _PART.findall(name):
                if part[0].isupper() and part.casefold() not in self.words:
                    parts.setdefault(part.casefold(), stand_in)
        whole = {name.casefold(): to for name, to in self.stand_ins.items() if len(name.split()) > 1}
        return parts | whole

    @cached_property
    def _known(self) -> "re.Pattern[str]":
        longest_first = sorted(self._parts, key=lambda part: (-len(part), part))
        return re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, longest_first))})(?!\w)", re.IGNORECASE)


def names_of(entries: Iterable[Entry], roster: Roster, plan: Plan) -> Names:
    """Everybody named: first those who acted, in the ledger's order, then the plan's people, then the rovers.

    A rover's stand-in is its number, everybody else's `person 1`, `person 2` and so on.
    """
    nobody = OF_THE_OFFICE | roster.place_by_id.keys() | roster.rover_by_id.keys()
    rovers = {rover.name: rover.rover for rover in roster.rovers if rover.name and rover.name not in nobody}
    found: dict[str, None] = {}
    for entry in entries:
        found.update(dict.fromkeys(_named_in(entry)))
    found.update(dict.fromkeys(contact.name for contact in plan.people))
    people = [name for name in found if name not in nobody and name not in rovers and not _by_text(name, nobody)]
    return Names({name: f"person {n}" for n, name in enumerate(people, 1)} | rovers, _words_of(roster, plan))


def named_by_sender(sender: str) -> str:
    """The person in a sender such as `desk:Ada Rill`; empty where it is a place, a file or the office itself."""
    kind, _, name = sender.partition(":")
    return name if kind in _SENDER_OF_A_PERSON else ""


def _named_in(entry: Entry) -> Iterable[str]:
    if entry.sender != f"drop:{entry.by}":
        yield entry.by
    yield named_by_sender(entry.sender)
    for name in _PERSONAL:
        yield entry.text(name)


def _by_text(name: str, nobody: frozenset[str]) -> bool:
    """Whether these are places or a rover, by text."""
    return name.endswith(_BY_TEXT) and all(part in nobody for part in name.removesuffix(_BY_TEXT).split(", "))


def _words_of(roster: Roster, plan: Plan) -> frozenset[str]:
    told = [plan.election.county, plan.election.name, *plan.words.values(), "desk", "front", "polls", "rover"]
    for place in roster.places:
        told += [place.name, place.address, place.city, place.zone]
    return frozenset(word.casefold() for each in told for word in _PART.findall(each))
