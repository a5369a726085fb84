"""Step times of an earlier election, kept beside the plan as a CSV file: the curve behind today's."""

import csv
import io
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from county.domain.moments import parse_moment
from county.errors import Problem, Refused

_MINUTES = re.compile(r"[+-]?\d{1,5}", re.ASCII)
COLUMNS = ("election", "place", "step", "done_at", "minutes")


@dataclass(frozen=True, slots=True)
class EarlierStep:
    """One step done at one place: when (aware UTC), and how many minutes after that place's own opening that day."""

    election: str
    place: str
    step: str
    done_at: datetime
    minutes: int


def parse_earlier_steps(text: str, name: str) -> tuple[EarlierStep, ...]:
    """Read the file's text; `name` is the file's name for messages. Raises Refused with every bad row."""
    rows = csv.DictReader(io.StringIO(text.removeprefix("\ufeff"), newline=""))
    missing = [column for column in COLUMNS if column not in (rows.fieldnames or ())]
    if missing:
        raise Refused([Problem(f"{name}, row 1", f"column {column} is missing") for column in missing])
    steps: list[EarlierStep] = []
    problems: list[Problem] = []
    for number, row in enumerate(rows, 2):
        try:
            steps.append(_step(row))
        except ValueError as error:
            problems.append(Problem(f"{name}, row {number}", str(error)))
    if problems:
        raise Refused(problems)
    return tuple(steps)


def minutes_by_step(steps: Iterable[EarlierStep]) -> Mapping[str, tuple[int, ...]]:
    """For each step, the minutes after their own opening at which places had done it, earliest first."""
    found: dict[str, list[int]] = {}
    for step in steps:
        found.setdefault(step.step, []).append(step.minutes)
    return {key: tuple(sorted(minutes)) for key, minutes in found.items()}


def _step(row: Mapping[str, str | None]) -> EarlierStep:
    election, place, step, done_at, minutes = (row[column] or "" for column in COLUMNS)
    moment = parse_moment(done_at)
    if moment is None:
        raise ValueError(f"done_at {done_at} has no offset like -06:00")
    if not (place and step):
        raise ValueError("place and step are needed")
    if not _MINUTES.fullmatch(minutes):
        raise ValueError(f"minutes {minutes} is not a whole number")
    return EarlierStep(election, place, step, moment, int(minutes))
