"""The ledger for the public: names, telephone numbers and the keys made of them replaced, nothing else changed.

The keys keep their order among each other, so that the copy folds to the same day as the ledger itself.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from county.domain.entries import Entry, Kind
from county.domain.plan import Plan
from county.domain.roster import Roster
from county.pack.names import Names

# made of a telephone number, a name, or all that was said: whoever guesses it could find it confirmed
_MADE_OF_WORDS = ("notice/", "row-", "text-")
NOTE_LEFT_OUT, PLAN_LEFT_OUT = "[note left out]", "[left out]"
_WRITTEN_FREELY = ("note", "reason", "fallback", "text")
_NEVER_A_NAME = frozenset(
    {"step", "device", "seal_position", "seal_number", "shown_date", "shown_precincts", "exception", "effect", "since"}
    | {"case", "action", "rover", "suggested", "expected_at", "corrects", "cause", "fact", "channel", "role", "telling"}
    | {"roster_digest", "outcome", "took", "item", "items", "items_missing", "roles"}
)


@dataclass(frozen=True, slots=True)
class Copied:
    """One entry as the public may read it, and the names of what was replaced in it."""

    entry: Entry
    replaced: tuple[str, ...]


def public_copy(entries: Sequence[Entry], names: Names, *, notes: bool = True) -> tuple[Copied, ...]:
    """Every entry with what it must not show replaced; without `notes`, all that was written freely is left out."""
    renamed = _renamed(entries)
    return tuple(_copied(entry, names, renamed, notes=notes) for entry in entries)


def public_roster(roster: Roster) -> Roster:
    """The roster without telephone numbers and rovers' names."""
    return replace(
        roster,
        places=tuple(replace(place, phone="") for place in roster.places),
        rovers=tuple(replace(rover, name=rover.rover, phone="") for rover in roster.rovers),
    )


def public_plan(plan: Plan, names: Names) -> Plan:
    """The plan without its people's names and addresses, and without telephone numbers."""
    people = tuple(replace(contact, name=names.of(contact.name), notice="console") for contact in plan.people)
    return replace(plan, people=people, reach=replace(plan.reach, phone="", text_line=""))


def public_plan_text(text: str, names: Names) -> str:
    """A plan's text without its people's tables, and without names, telephone numbers and addresses elsewhere."""
    kept: list[str] = []
    of_a_person = False
    for line in text.splitlines():
        if line.startswith("["):
            of_a_person = line.startswith("[[person]]")
            kept += ["# a person is left out of this copy"] if of_a_person else []
        kept += [] if of_a_person else [names.left_out_of(line)]
    return "\n".join(kept) + "\n"


def _renamed(entries: Iterable[Entry]) -> Mapping[str, str]:
    """New words for keys made of words, and for notices' own names: numbered in the order the old ones sort in."""
    found: dict[str, set[str]] = {prefix: set() for prefix in (*_MADE_OF_WORDS, "")}
    for entry in entries:
        prefix = next((each for each in _MADE_OF_WORDS if entry.key.startswith(each)), None)
        if prefix:
            found[prefix].add(entry.key)
        if entry.kind is Kind.NOTICE:
            # a notice is named by whom it tells, and a message by its notices
            found[""].update(filter(None, (entry.text("notice"), entry.text("message"))))
    return {old: f"{prefix}{number:07}" for prefix, some in found.items() for number, old in enumerate(sorted(some), 1)}


def _copied(entry: Entry, names: Names, renamed: Mapping[str, str], *, notes: bool) -> Copied:
    said = {"key": entry.key, "by": entry.by, "sender": entry.sender, **entry.fields}
    after = {
        # numbers, and yes or no, are nobody's name
        name: value if isinstance(value, int) else _value(name, value, names, renamed, notes=notes)
        for name, value in said.items()
    }
    if entry.kind is Kind.PLAN:
        # the text's digest goes with it: a guessed name could be confirmed by it
        after |= {"text": public_plan_text(entry.text("text"), names), "text_digest": PLAN_LEFT_OUT}
    replaced = tuple(sorted(name for name in said if after[name] != said[name]))
    if not replaced:
        return Copied(entry, ())
    key, by, sender = (str(after.pop(name)) for name in ("key", "by", "sender"))
    return Copied(replace(entry, key=key, by=by, sender=sender, fields=MappingProxyType(after)), replaced)


def _value(name: str, value: object, names: Names, renamed: Mapping[str, str], *, notes: bool) -> object:
    if isinstance(value, tuple):
        return tuple(_value(name, each, names, renamed, notes=notes) for each in value)
    if not isinstance(value, str) or not value:
        return value
    if name in ("by", "person"):
        return names.of(value)
    if name == "sender":
        door, colon, name = value.partition(":")
        return f"{door}{colon}{names.of(name)}"
    if value in renamed:
        return renamed[value]
    if name == "key":
        return value
    if name in _WRITTEN_FREELY and not notes:
        return NOTE_LEFT_OUT
    return value if name in _NEVER_A_NAME else names.left_out_of(value)
