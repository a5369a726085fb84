"""Lines that tell numbers: counts, the line of people, the zero report."""

from collections.abc import Mapping
from types import MappingProxyType

from county.domain.text_line.line import FILLERS, Line, Raw, Unclear, Understood
from county.domain.text_line.numbers import read_number
from county.domain.text_line.words import closest

_LABELS: Mapping[str, str] = MappingProxyType(
    {
        "checkins": "check_ins",
        "checkin": "check_ins",
        "checked": "check_ins",
        "left": "ballots_left",
        "remaining": "ballots_left",
        "spoiled": "spoiled",
        "provisional": "provisional",
        "auxiliary": "auxiliary",
        "public": "public_counter",
        "protective": "protective_counter",
        "copies": "copies",
        "tapes": "copies",
        "signers": "signers",
        "signed": "signers",
        "officers": "officers_present",
        "queue": "in_line",
    }
)
_SAID: Mapping[str, str] = MappingProxyType(
    {
        "public_counter": "public counter",
        "protective_counter": "protective counter",
        "in_line": "in line",
        "check_ins": "check-ins",
        "ballots_left": "ballots left",
        "officers_present": "officers",
    }
)
_OF_A_COUNT = ("public_counter", "in_line", "check_ins", "ballots_left", "spoiled", "provisional", "auxiliary")
_OF_ZERO = ("public_counter", "protective_counter", "copies", "signers")


def numbers_in(line: Line, bare: str, allowed: tuple[str, ...]) -> dict[str, int]:
    """Numbers by what they count: each behind its label, the first one also without; anything else is unclear."""
    labels = dict(_LABELS) | {line.plan.word("text_line").casefold(): "in_line"}
    found: dict[str, int] = {}
    pending = bare
    for word in line.words:
        number = read_number(word)
        if number is not None and pending and pending not in found:
            found[pending] = number
            pending = ""
        elif number is None and (label := closest(word.replace("-", ""), labels)) and labels[label] in allowed:
            pending = labels[label]
        elif word.casefold() not in FILLERS:
            raise Unclear(f'"{word[:20]}" is unclear')
    if not found or (pending and pending != bare and pending not in found):
        raise Unclear("a number is missing")
    return found


def in_words(numbers: Mapping[str, int]) -> str:
    """Numbers as an answer says them: `public counter 412, in line 18`."""
    return ", ".join(f"{_SAID.get(name, name)} {number:,}" for name, number in numbers.items())


def count(line: Line) -> Understood:
    """A count: ballots scanned at the place, or on the scanner named, and whatever else is behind a label."""
    device, rest = line.device()
    return _counted(device, numbers_in(rest, "public_counter", _OF_A_COUNT))


def in_line(line: Line) -> Understood:
    """A count that begins with the people in line."""
    return _counted("", numbers_in(line, "in_line", _OF_A_COUNT))


def _counted(device: str, numbers: dict[str, int]) -> Understood:
    own = {name: number for name, number in numbers.items() if name != "public_counter" or not device}
    raws: list[Raw] = [{"kind": "count", **own}] if own else []
    if device and "public_counter" in numbers:
        raws.append({"kind": "count", "device": device, "public_counter": numbers["public_counter"]})
    return Understood(tuple(raws), f"count{f' of {device}' if device else ''}: {in_words(numbers)}")


def zero(line: Line) -> Understood:
    """A zero report of one scanner; where the place has several, it must be named."""
    device, rest = line.device()
    scanners = line.expected.scanners
    if not device and len(scanners) > 1:
        raise Unclear(f"say which scanner: {' or '.join(scanners)}")
    numbers = numbers_in(rest, "public_counter", _OF_ZERO)
    if "public_counter" not in numbers:
        raise Unclear("the public counter is missing")
    where = {"device": device or scanners[0]} if device or scanners else {}
    said = f" of {where['device']}" if where else ""
    return Understood(
        ({"kind": "step", "step": "zero-report", **where, **numbers},), f"zero report{said}: {in_words(numbers)}"
    )
