"""Lines that tell a step of the place: done just now, or at the time given."""

from collections.abc import Mapping
from datetime import datetime
from types import MappingProxyType

from county.domain.moments import write_moment
from county.domain.text_line.counted import in_words, numbers_in
from county.domain.text_line.line import FILLERS, Line, Raw, Reads, Unclear, Understood
from county.domain.text_line.numbers import read_time

_ASKED: Mapping[str, str] = MappingProxyType({"staffed": "officers_present", "pollbooks-ready": "check_ins"})
_ON_THE_SHEET = frozenset({"seals-checked", "setup-confirmed", "site-ready", "results-printed", "balanced", "received"})


def step(key: str) -> Reads:
    """A step of the place: done just now or at the time given, with a number where the step has one to tell."""

    def reads(line: Line) -> Understood:
        if key in _ON_THE_SHEET:
            raise Unclear(f"that step is told on the {line.plan.word('sheet')} or by telephone")
        found = line.plan.step(key)
        if found is None:
            raise Unclear("the county's plan has no such step")
        device, rest = line.device(found.types) if found.per_device else ("", line)
        if found.per_device and not device:
            raise Unclear(f"say which: {' or '.join(_devices(line, found.types))}")
        at, left = _at(rest, key)
        more = _told_with(key, rest.with_words(left))
        raw: Raw = {"kind": "step", "step": key, **({"device": device} if device else {}), **more}
        when = f" {at:%H:%M}" if at else ""
        told = {"happened_at": write_moment(at)} if at else {}
        said = f", {in_words(more)}" if more else ""
        return Understood((raw | told,), f"{found.says}{f' ({device})' if device else ''}{when}{said}")

    return reads


def _devices(line: Line, types: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(device for device, type_ in line.expected.device_types.items() if type_ in types)


def _at(line: Line, key: str) -> tuple[datetime | None, list[str]]:
    """The time that the line gives for a step, and the words that are left."""
    words = [word for word in line.words if word.casefold() not in FILLERS]
    if _ASKED.get(key) and len(words) == 1 and ":" not in words[0]:
        return None, words
    try:
        at, took = read_time(words, line.now, line.due(key), line.zone)
    except ValueError as error:
        raise Unclear(str(error)) from None
    return at, words[took:]


def _told_with(key: str, line: Line) -> dict[str, int]:
    if not line.words:
        return {}
    asked = _ASKED.get(key)
    return numbers_in(line, asked or "", (asked,) if asked else ("in_line",))
