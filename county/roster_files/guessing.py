"""A list's columns: told for this load, confirmed before, or guessed; shown in any case."""

from collections.abc import Mapping, Sequence

from county.delimited import Unreadable
from county.roster_files.columns import Guess, guess_columns
from county.roster_files.fields import FIELDS
from county.roster_files.header_words import cleaned
from county.roster_files.headers import Header
from county.roster_files.known import Known

LOOKED_AT = 500
_SHOWN = 3


def columns_of(file: str, sheet: str, header: Header, known: Known) -> Guess:
    """The map for a list. Raises Unreadable where a person told of a field or a column that is not there."""
    values = _values(header)
    guessed, doubts = guess_columns(header.names, values)
    confirmed = next((each for each in known.maps if each.fits(header.names)), None)
    columns: dict[str, tuple[str, ...]] = dict(guessed)
    if confirmed is not None:
        columns, doubts = _in_this_spelling(confirmed.columns, header.names), []
    told = known.told.get(file) or known.told.get("") or {}
    if told:
        columns = _told(columns, told, header.names)
        doubts = []
    if not any(each in columns for each in ("name", "place", "address", "name_address")):
        doubts = ["no column names the place", *(each for each in doubts if "names the place" not in each)]
    position = {name: n for n, name in enumerate(header.names)}
    sample = {
        each: tuple(value for value in dict.fromkeys(values[position[headers[0]]]) if value.strip())[:_SHOWN]
        for each, headers in columns.items()
    }
    ordered = {each: columns[each] for each in FIELDS if each in columns}
    return Guess(
        file, sheet, header.row, header.names, ordered, tuple(doubts), bool(told or confirmed) and not doubts, sample
    )


def _told(
    columns: Mapping[str, tuple[str, ...]], told: Mapping[str, str], headers: Sequence[str]
) -> dict[str, tuple[str, ...]]:
    spelled = {cleaned(header).casefold(): header for header in headers}
    found = dict(columns)
    for each, said in told.items():
        if each not in FIELDS:
            raise Unreadable(f"{each} is no field of a list; known are {', '.join(FIELDS)}")
        parts = [said] if cleaned(said).casefold() in spelled else said.split(" + ")
        wanted = [cleaned(part) for part in parts if part.strip()]
        missing = [part for part in wanted if part.casefold() not in spelled]
        if missing:
            raise Unreadable(f"has no column '{missing[0]}'; its columns are {', '.join(headers)}")
        found.pop(each, None)
        if wanted:
            chosen = tuple(spelled[part.casefold()] for part in wanted)
            # a column says one thing: what was guessed of it before is no more
            found = {other: h for other, h in found.items() if not set(h) & set(chosen) or other in told}
            found[each] = chosen
    return found


def _in_this_spelling(columns: Mapping[str, tuple[str, ...]], headers: Sequence[str]) -> dict[str, tuple[str, ...]]:
    spelled = {cleaned(header).casefold(): header for header in headers}
    return {each: tuple(spelled[cleaned(h).casefold()] for h in said) for each, said in columns.items()}


def _values(header: Header) -> list[list[str]]:
    rows = [row for _, row in header.below[:LOOKED_AT] if isinstance(row, list)]
    return [[row[n].strip() if n < len(row) else "" for row in rows] for n in range(len(header.names))]
