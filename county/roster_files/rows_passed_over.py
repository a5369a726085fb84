"""Rows of a list that tell of no place and no precinct: totals, notes, a header on every page."""

import re
from collections.abc import Mapping, Sequence

from county.roster_files import cells
from county.roster_files.list_cells import OF_A_PLACE, whole

_TOTAL = re.compile(r"(?:grand |sub-?)?totals?\b.*|sum\b.*|county ?-?wide totals?\b.*", re.IGNORECASE)
_SENTENCE = 33
_TOLD = (*OF_A_PLACE, "precinct", "precinct_name", "precincts")


def why_passed_over(row: Sequence[str], values: Mapping[str, str], header: Sequence[str], summed: int) -> str:
    """Why a row tells of nothing, in words for a person; empty where it does. `summed` are the voters above it."""
    there = [cell.strip() for cell in row if cell.strip()]
    same = sum(cell.strip() == name for cell, name in zip(row, header, strict=False))
    if len(there) > 1 and same >= len(there) / 2:
        return "repeats the header"
    if any(_TOTAL.fullmatch(cell) for cell in there[:2]) and not values.get("address"):
        said = whole(values.get("registered", ""))
        if said is not None and said != summed:
            return f"is a total of {said:,}; the rows above it come to {summed:,}"
        return "is a total"
    alone = len(there) == 1 and len(header) > 2
    if alone and (len(there[0]) >= _SENTENCE or not (values.get("precinct") or values.get("name"))):
        return f"tells of no place: {cells.shown(' '.join(there[0].split()))}"
    if not any(values.get(each) for each in _TOLD):
        return "names no place and no precinct"
    return ""
