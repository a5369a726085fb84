"""How one value of a report is read, by its shape: a value, or ValueError saying in words what is wrong."""

import re
from collections.abc import Callable, Mapping
from types import MappingProxyType

from county.domain.entries import Shape
from county.domain.moments import parse_moment, write_moment

LARGEST = 999_999_999
WORD_LENGTH = 200
TEXT_LENGTH = 2_000
_WHOLE = re.compile(r"\d{1,9}", re.ASCII)
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff]")
_BETWEEN = re.compile(r"[;,|]")
_YES, _NO = ("true", "yes", "1"), ("false", "no", "0")


def _text(value: object, longest: int = TEXT_LENGTH) -> str:
    if not isinstance(value, str):
        raise ValueError("must be text")
    if _CONTROL.search(value):
        raise ValueError("holds a character that is no text (such as NUL)")
    text = value.strip()
    if len(text) > longest:
        raise ValueError(f"is longer than {longest:,} characters")
    return text


def _word(value: object) -> str:
    if isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= LARGEST:
        return str(value)
    return _text(value, WORD_LENGTH)


def _number(value: object) -> int:
    if isinstance(value, str):
        text = value.strip()
        if not _WHOLE.fullmatch(text):
            raise ValueError(f"must be a whole number from 0 to {LARGEST:,}")
        return int(text)
    if not isinstance(value, int) or isinstance(value, bool) or not 0 <= value <= LARGEST:
        raise ValueError(f"must be a whole number from 0 to {LARGEST:,}")
    return value


def _yes_no(value: object) -> bool:
    if isinstance(value, bool):
        return value
    said = value.strip().casefold() if isinstance(value, str) else ""
    if said in _YES or said in _NO:
        return said in _YES
    raise ValueError("must be true or false")


def _moment(value: object) -> str:
    moment = parse_moment(_text(value, WORD_LENGTH))
    if moment is None:
        raise ValueError("needs its offset from UTC, like 2026-11-03T05:41:00-06:00")
    return write_moment(moment)


def _words(value: object) -> tuple[str, ...]:
    parts = _BETWEEN.split(value) if isinstance(value, str) else value
    if not isinstance(parts, list | tuple) or len(parts) > 500:
        raise ValueError("must be a list of words")
    return tuple(word for word in (_word(part) for part in parts) if word)


READ: Mapping[Shape, Callable[[object], object]] = MappingProxyType(
    {
        Shape.WORD: _word,
        Shape.TEXT: _text,
        Shape.NUMBER: _number,
        Shape.YES_NO: _yes_no,
        Shape.MOMENT: _moment,
        Shape.WORDS: _words,
    }
)
