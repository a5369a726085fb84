"""The cells of one row of a county's own list, by field: joined where several make up one, parted where one is two."""

import re
from collections.abc import Mapping, Sequence

from county.roster_files import cells
from county.roster_files.header_words import header_words
from county.roster_files.looks_like import NAME_AND_ADDRESS

_ZEROS = re.compile(r"(\d+)\.0+")
_TOWN = re.compile(r"(.+?),?\s+[A-Z]{2}\.?(?:,?\s+\d{5}(?:-?\d{4})?)?")
_NUMBER_NAME = re.compile(r"([A-Za-z]{0,2}\d[\w.-]{0,7})\s*(?:-|–|:)\s+([^\d\s].*)")
_SECOND_LINE = re.compile(r"(?:address|line) ?[23]$|[23]$")
_LINES = re.compile(r"(?<![\n\d])\s*\n\s*")
_A_DATE = re.compile(r"\d{4}-(?P<month>\d\d)-(?P<day>\d\d)(?:[ T]00:00:00)?|(?P<d>\d{1,2})-(?P<name>[A-Z][a-z]{2})")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
OF_A_PLACE = ("name", "name_address", "address", "place")


def values_of(
    row: Sequence[str], columns: Mapping[str, tuple[str, ...]], positions: Mapping[str, int]
) -> dict[str, str]:
    """What a row says, field by field, empty where it says nothing."""
    values: dict[str, str] = {}
    for each, headers in columns.items():
        parts = [(h, row[positions[h]].strip()) for h in headers if positions[h] < len(row)]
        values[each] = _joined(each, [(header, part) for header, part in parts if part])
    return _parted(values)


def number_id(said: str) -> str:
    """An id as it was meant: spreadsheets make 12.0 of 12."""
    found = _ZEROS.fullmatch(said)
    return found[1] if found else said


def not_a_date(said: str) -> str:
    """A precinct that a spreadsheet made a date, 2026-01-02 or 2-Jan, as it was typed: 1-2."""
    found = _A_DATE.fullmatch(said)
    if not found or (found["name"] and found["name"] not in _MONTHS):
        return said
    month = int(found["month"]) if found["month"] else _MONTHS.index(found["name"]) + 1
    return f"{month}-{int(found['day'] or found['d'])}"


def whole(said: str) -> int | None:
    """A whole number as lists write it; None where it is none."""
    try:
        return cells.whole(number_id(said.replace(" ", "")))
    except ValueError:
        return None


def _joined(each: str, parts: Sequence[tuple[str, str]]) -> str:
    """The cells that make up a field, with their headers: a street follows its number, a second line a comma."""
    if each in ("precincts", "precinct"):
        return ("\n" if each == "precincts" else "-").join(part for _, part in parts)
    whole = ""
    for header, part in parts:
        line = " ".join(_LINES.sub(", " if each in ("address", "name_address") else " ", part).split())
        between = ", " if _SECOND_LINE.search(header_words(header)) else " "
        whole = f"{whole}{between}{line}" if whole else line
    return whole


def _parted(values: dict[str, str]) -> dict[str, str]:
    """The values with those told apart that a list writes into one cell."""
    both = NAME_AND_ADDRESS.fullmatch(values.get("name_address", ""))
    if "name_address" in values:
        name, address = (both[1], both[2]) if both else (values["name_address"], "")
        values |= {"name": values.get("name") or name, "address": values.get("address") or address}
    town = _TOWN.fullmatch(values.get("city", ""))
    if town:
        values["city"] = town[1]
    numbered = _NUMBER_NAME.fullmatch(values.get("precinct", ""))
    if numbered and not values.get("precinct_name"):
        values |= {"precinct": numbered[1], "precinct_name": numbered[2]}
    return values
