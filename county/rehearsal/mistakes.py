"""A few typed mistakes, each of which the intake is meant to refuse by the name of its field."""

from collections.abc import Callable, Mapping
from random import Random

Raw = dict[str, object]

MISTAKES: Mapping[str, Callable[[Raw], Raw]] = {
    "mistake: a field that is none": lambda raw: {**raw, "oficers_present": 4},
    "mistake: a number in words": lambda raw: {**raw, "public_counter": "a dozen"},
    "mistake: a time as people say it": lambda raw: {**raw, "happened_at": "ten to six"},
    "mistake: a place that is none": lambda raw: {**raw, "place": f"{raw['place']}9-9"},
    "mistake: a step that is none": lambda raw: {**raw, "kind": "step", "step": "zero-reprot"},
    "mistake: a device that is none": lambda raw: {**raw, "device": "SCANNER BY THE DOOR"},
}


def mistaken(raw: Raw, rng: Random) -> tuple[str, Raw]:
    """What the mistake is called, and the report with it, under a key of its own."""
    plays = rng.choice(sorted(MISTAKES))
    return plays, {**MISTAKES[plays](raw), "key": f"{raw['key']}x"[-64:]}
