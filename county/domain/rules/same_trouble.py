"""The rule for the same trouble at many places: what the clock wrote down of each pattern, beginning to end."""

from collections.abc import Iterator

from county.domain.effects import effect_of
from county.domain.entries import Entry
from county.domain.exception_kinds import SAME_TROUBLE
from county.domain.findings import Finding
from county.domain.rules.scene import Scene

ENDED_SAYS = "every case it links has ended"


def same_trouble(scene: Scene) -> Iterator[Finding]:
    """Each pattern that began at this place; as it grows, what was said of it last stands for all of it."""
    for told in patterns_told(scene.day.raised).values():
        begun = [entry for entry in told if not entry.fields.get("ends")]
        over = max((entry.happened_at for entry in told if entry.fields.get("ends")), default=None)
        latest = max(begun, key=lambda entry: (len(linked(entry)), entry.happened_at, entry.key), default=None)
        for entry in begun:
            assert latest is not None
            yield scene.finding(
                SAME_TROUBLE,
                entry,
                latest.text("says"),
                effect=effect_of(entry.text("effect"), scene.plan.kind(SAME_TROUBLE).effect),
                expected=latest.text("expected"),
                found=latest.text("found"),
                clears_at=max(over, entry.happened_at) if over else None,
                clears_says=ENDED_SAYS,
                of=entry.text("of"),
                links=linked(entry),
            )


def patterns_told(raised: tuple[Entry, ...]) -> dict[str, list[Entry]]:
    """What the clock wrote down of patterns that began at a place, by cause, in the order it happened."""
    told: dict[str, list[Entry]] = {}
    for entry in raised:
        if is_of_a_pattern(entry):
            told.setdefault(entry.text("cause"), []).append(entry)
    return told


def is_of_a_pattern(entry: Entry) -> bool:
    """Whether the clock wrote it down of a pattern."""
    return entry.text("exception") == SAME_TROUBLE and bool(entry.text("of"))


def linked(entry: Entry) -> tuple[str, ...]:
    """The cases that an entry about a pattern names."""
    named = entry.fields.get("cases")
    return tuple(str(name) for name in named) if isinstance(named, tuple | list) else ()
