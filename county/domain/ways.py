"""The county's own minutes from place to place, kept beside the plan as a CSV file."""

import csv
import io
import math
from collections.abc import Mapping
from types import MappingProxyType

from county.errors import Problem, Refused

COLUMNS = ("from", "to", "minutes")
LONGEST_MINUTES = 24 * 60
_SAID = 20

Ways = Mapping[tuple[str, str], float]
"""From, to → minutes, one way, by the ids of places and rovers (a rover's id stands for its base)."""


def parse_ways(text: str, name: str) -> Ways:
    """Read the file's text; `name` is the file's name for messages. Raises Refused with row and column of each fault.

    Each row is one way; the way back is a row of its own, or goes by distance where there is none.
    """
    rows = csv.DictReader(io.StringIO(text.removeprefix("\ufeff"), newline=""))
    missing = [column for column in COLUMNS if column not in (rows.fieldnames or ())]
    if missing:
        raise Refused([Problem(f"{name}, row 1", f"column {column} is missing") for column in missing])
    ways: dict[tuple[str, str], float] = {}
    problems: list[Problem] = []
    for number, row in enumerate(rows, 2):
        start, end, told = ((row[column] or "").strip() for column in COLUMNS)
        fault = _fault(start, end, told, (start, end) in ways)
        if fault:
            problems.append(Problem(f"{name}, row {number}, column {fault[0]}", fault[1]))
        else:
            ways[start, end] = float(told)
    if problems:
        more = len(problems) - _SAID
        raise Refused([*problems[:_SAID], *([Problem(name, f"and {more} faults more")] if more > 0 else [])])
    return MappingProxyType(ways)


def _fault(start: str, end: str, told: str, known: bool) -> tuple[str, str] | None:
    """The column and what is wrong with it; None where nothing is."""
    for column, said in (("from", start), ("to", end)):
        if not said:
            return column, "is empty"
    if start == end:
        return "to", f"{end} is where it starts"
    if known:
        return "to", f"the way from {start} to {end} stands above already"
    try:
        minutes = float(told)
    except ValueError:
        minutes = math.nan
    if not 0 <= minutes <= LONGEST_MINUTES:
        return "minutes", f'"{told[:40]}" is not a number of minutes from 0 to {LONGEST_MINUTES}'
    return None
