"""Where a list begins: the header under its titles, in one line or in two, and what its columns are called."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from county.delimited import BadRow, Record, Unreadable
from county.roster_files.header_names import header_score
from county.roster_files.header_words import cleaned, header_words

DEEPEST = 30
"""No title takes more rows than this."""
_DATA = re.compile(r"\d{3,}|.*\d{1,2}:\d{2}")
_OF_PEOPLE = re.compile(r"voters? number|(?:date )?birth(?: date)?|birthdate|dob|date birth")
_OF_EQUIPMENT = re.compile(
    r"(?:device|scanner|tabulator|machine|equipment|unit|asset)(?: tag)? (?:number|type|serial|serial number)"
    r"|serial(?: number)?|seal(?: number)?|rover(?: number| name)?"
)
_THEIR_NAMES = re.compile(r"(?:first|last|middle) name|surname|voters? name|full name|(?:first|last)name")


@dataclass(frozen=True, slots=True)
class Header:
    """A list's column names as shown, the row they stand in, and the records below."""

    row: int
    names: tuple[str, ...]
    below: tuple[Record, ...]


def find_header(records: Sequence[Record]) -> Header | None:
    """The row, or the two rows, that name most columns; None where no row names two. Raises Unreadable for voters."""
    best: tuple[int, int, list[str]] | None = None
    for position, (_, cells) in enumerate(records[:DEEPEST]):
        if isinstance(cells, BadRow):
            continue
        _refuse_voters(cells)
        score = header_score(cells)
        candidate = (score, position, list(cells))
        following = records[position + 1][1] if position + 1 < len(records) else []
        if isinstance(following, list) and _may_be_second(following):
            joined = _joined(cells, following)
            if header_score(joined) > max(score, header_score(following)):
                candidate = (header_score(joined), position + 1, joined)
        if best is None or candidate[0] > best[0]:
            best = candidate
    if best is None or best[0] < 2:
        return None
    _, position, cells = best
    below = tuple(records[position + 1 :])
    return Header(records[position][0], _distinct(cells, below), below)


def is_of_equipment(header: Header) -> bool:
    """Whether a list is of devices, seals or rovers, so that its places must not be taken for all there are."""
    return any(_OF_EQUIPMENT.fullmatch(header_words(name)) for name in header.names)


def _may_be_second(cells: Sequence[str]) -> bool:
    there = [cell for cell in cells if cell.strip()]
    return bool(there) and not any(_DATA.match(cell.strip()) for cell in there)


def _joined(upper: Sequence[str], lower: Sequence[str]) -> list[str]:
    """Two header rows as one: the upper spans the columns to its right that it leaves empty."""
    spanning, joined = "", []
    for position in range(max(len(upper), len(lower))):
        above = upper[position].strip() if position < len(upper) else ""
        below = lower[position].strip() if position < len(lower) else ""
        spanning = above or spanning
        joined.append(f"{spanning} {below}".strip() if below else above)
    return joined


def _distinct(cells: Sequence[str], below: Sequence[Record]) -> tuple[str, ...]:
    """Every column gets a name of its own, also one that has none but holds something."""
    width = max([len(cells), *(len(row) for _, row in below if isinstance(row, list))])
    names: list[str] = []
    for position in range(width):
        name = cleaned(cells[position]) if position < len(cells) else ""
        name = name or f"column {position + 1}"
        again = sum(each == name or each.startswith(f"{name} (") for each in names)
        names.append(f"{name} ({again + 1})" if again else name)
    return tuple(names)


def _refuse_voters(cells: Sequence[str]) -> None:
    words = [header_words(cell) for cell in cells]
    if any(_OF_PEOPLE.fullmatch(said) for said in words) and any(_THEIR_NAMES.fullmatch(said) for said in words):
        raise Unreadable("looks like a list of voters; nothing of theirs is read here, and nothing of it is kept")
