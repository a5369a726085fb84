"""What the values of a column look like, whatever its header says."""

import re
from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType

from county.roster_files.coordinates import read_pair
from county.roster_files.hours import read_hours, read_opening_and_closing

_STREET = re.compile(
    r"\d+[A-Za-z]?(?:[-/]\d+)?\s+\S*[A-Za-z]|.*\b(?:hwy|highway|route|rd|road|street|st|ave|box)\b", re.IGNORECASE
)
_WHOLE = re.compile(r"\d{1,3}(?:,\d{3})+|\d{1,7}(?:\.0+)?")
_DECIMAL = re.compile(r"[+−-]?\d{1,3}(?:[.,]\d{2,15})\s*°?\s*[NSEW]?", re.IGNORECASE)
_DEGREES = re.compile(r"[+−-]?\d{1,3}\s*[°d\s].*", re.IGNORECASE)
_PHONE = re.compile(r"[\d\s().+/x-]{7,25}(?:ext\.?\s*\d+)?", re.IGNORECASE)
_DATE = re.compile(r"\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}(?: 00:00:00)?")
_SHORT = re.compile(r"[\w./:#' -]{1,24}")
_LIST = re.compile(r"[\w./' -]{1,16}(?:\s*[,;&\n|]\s*[\w./' -]{1,16})+")
NAME_AND_ADDRESS = re.compile(r"([^\d\W].{2,}?)\s*(?:[,;\n(]| - )\s*(\d.*)", re.DOTALL)
"""A name, and what begins with a house number after it."""

Looks = Callable[[str], bool]


def _name(cell: str) -> bool:
    return sum(each.isalpha() for each in cell) >= 3 and not _STREET.match(cell)


def _time(cell: str) -> bool:
    return _reads(lambda: read_opening_and_closing(cell, "").opens or read_opening_and_closing("", cell).closes)


def _hours(cell: str) -> bool:
    return _reads(lambda: read_hours(cell).opens)


def _reads(read: Callable[[], object]) -> bool:
    try:
        return read() is not None
    except ValueError:
        return False


LOOKS: Mapping[str, Looks] = MappingProxyType(
    {
        "name": _name,
        "name_address": lambda cell: sum(each.isalpha() for each in cell) >= 6 and any(each.isdigit() for each in cell),
        "place": lambda cell: len(cell) <= 32,
        "address": lambda cell: bool(_STREET.match(cell)),
        "city": lambda cell: sum(each.isalpha() for each in cell) >= 2 and len(cell) <= 40 and not cell[0].isdigit(),
        "precinct": lambda cell: bool(_SHORT.fullmatch(cell)),
        "precinct_name": lambda cell: len(cell) <= 80,
        "precincts": lambda cell: len(cell) <= 4_000,
        "split": lambda cell: len(cell) <= 24,
        "registered": lambda cell: bool(_WHOLE.fullmatch(cell)),
        "officers": lambda cell: cell.isdigit() and len(cell) <= 3,
        "ballots_delivered": lambda cell: bool(_WHOLE.fullmatch(cell)),
        "hours": _hours,
        "opens": _time,
        "closes": _time,
        "latitude": lambda cell: bool(_DECIMAL.fullmatch(cell) or _DEGREES.fullmatch(cell)),
        "longitude": lambda cell: bool(_DECIMAL.fullmatch(cell) or _DEGREES.fullmatch(cell)),
        "coordinates": lambda cell: read_pair(cell, in_america=True).latitude is not None,
        "phone": lambda cell: bool(_PHONE.fullmatch(cell)),
        "zone": lambda cell: len(cell) <= 40,
        "route": lambda cell: len(cell) <= 40,
        "time_zone": lambda cell: len(cell) <= 40 and any(each.isalpha() for each in cell),
        "kind": lambda cell: len(cell) <= 60,
        "mail_only": lambda cell: len(cell) <= 30,
        "county": lambda cell: len(cell) <= 60 and any(each.isalpha() for each in cell),
        "election_date": lambda cell: bool(_DATE.fullmatch(cell)),
    }
)


def share(field: str, values: Sequence[str]) -> float:
    """How many of the values that are there look as this field's do, 0 to 1; 0.5 where none is there to tell."""
    there = [value.strip() for value in values if value.strip()]
    return sum(map(LOOKS[field], there)) / len(there) if there else 0.5


def looks_like_name_and_address(values: Sequence[str]) -> bool:
    """Whether most values begin with a name and go on with a street address."""
    there = [value.strip() for value in values if value.strip()]
    return bool(there) and sum(bool(NAME_AND_ADDRESS.fullmatch(value)) for value in there) >= len(there) * 0.6


def looks_like_lists(values: Sequence[str]) -> bool:
    """Whether a good part of the values are several short ones in one cell."""
    there = [value.strip() for value in values if value.strip()]
    return bool(there) and sum(bool(_LIST.fullmatch(value)) for value in there) >= max(1, len(there) * 0.2)
