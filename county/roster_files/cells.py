"""What one cell of a roster file may hold; every reader gives the value, or says in a ValueError why not."""

import re
from datetime import time

from county.domain.moments import is_zone, parse_clock

_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9_:-]{0,31}", re.ASCII)
_WHOLE = re.compile(r"\d{1,9}|\d{1,3}(?:,\d{3}){1,2}", re.ASCII)
_DECIMAL = re.compile(r"[+-]?\d{1,3}(?:\.\d{1,12})?", re.ASCII)
_CONTROL = re.compile(r"[\0-\x1f\x7f-\x9f]")
LONGEST = 300


def text(cell: str) -> str:
    """One line of text, trimmed; it may be empty."""
    said = cell.strip()
    if _CONTROL.search(said):
        raise ValueError("holds a line break or another control character")
    if len(said) > LONGEST:
        raise ValueError(f"is longer than {LONGEST} characters")
    return said


def identifier(cell: str) -> str:
    """An id that can be typed into a text message and stand in an address."""
    said = cell.strip()
    if not _ID.fullmatch(said):
        raise ValueError(f"{shown(said)} is no id: 1 to 32 of A-Z a-z 0-9 _ : -, the first a letter or digit")
    return said


def identifiers(cell: str) -> tuple[str, ...]:
    """Ids parted by semicolons, commas or bars."""
    return tuple(identifier(part) for part in re.split(r"[;,|]", cell) if part.strip())


def word(cell: str) -> str:
    """A text in small letters."""
    return text(cell).lower()


def words(cell: str) -> tuple[str, ...]:
    """Texts parted by semicolons, commas or bars."""
    return tuple(said for part in re.split(r"[;,|]", cell) if (said := word(part)))


def whole(cell: str) -> int | None:
    """A whole number of 0 or more, thousands commas allowed; None where empty."""
    said = cell.strip()
    if said and not _WHOLE.fullmatch(said):
        raise ValueError(f"{shown(said)} is not a whole number from 0 to 999,999,999")
    return int(said.replace(",", "")) if said else None


def latitude(cell: str) -> float | None:
    """Degrees north of the equator; None where empty."""
    return _degrees(cell, 90)


def longitude(cell: str) -> float | None:
    """Degrees east of Greenwich, so negative in America; None where empty."""
    return _degrees(cell, 180)


def clock(cell: str) -> time | None:
    """A wall time; None where empty."""
    return parse_clock(cell) if cell.strip() else None


def zone(cell: str) -> str:
    """A rovers' zone; with a "/" in it, an IANA time zone."""
    return time_zone(cell) if "/" in cell else text(cell)


def time_zone(cell: str) -> str:
    """An IANA time zone; it may be empty."""
    said = cell.strip()
    if said and not is_zone(said):
        raise ValueError(f"{shown(said)} is not a time zone like America/Chicago")
    return said


def serves(cell: str) -> str:
    """`all` for a vote centre, or nothing."""
    said = word(cell)
    if said not in ("", "all"):
        raise ValueError(f"{shown(said)} must be all, for a vote centre, or empty; precincts.csv says who votes where")
    return said


def shown(said: str) -> str:
    """What was said, short and printable."""
    written = ascii(said) if not said.isprintable() else f"'{said}'"
    return written if len(written) <= 60 else f"{written[:57]}..."


def _degrees(cell: str, most: int) -> float | None:
    said = cell.strip()
    if not said:
        return None
    if not _DECIMAL.fullmatch(said) or abs(float(said)) > most:
        raise ValueError(f"{shown(said)} is not degrees from -{most} to {most}, like 41.90 or -99.75")
    return float(said)
