"""Step times of an earlier election, kept beside the plan as a CSV file: the curve behind today's."""

import csv
import io
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from county.domain.moments import parse_moment, write_moment
from county.domain.picture import Picture
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


def earlier_steps(picture: Picture) -> tuple[EarlierStep, ...]:
    """Every step that was done at a place of the election whose picture this is, in the roster's order."""
    election = f"{picture.plan.election.date.year} {picture.plan.election.name}"
    return tuple(
        EarlierStep(election, place, step, done_at, round((done_at - state.expected.opens_at).total_seconds() / 60))
        for place, state in picture.places.items()
        for step, done_at in state.day.done.items()
    )


def write_earlier_steps(steps: Iterable[EarlierStep]) -> str:
    """The steps as the file's text, as `parse_earlier_steps` reads it."""
    written = io.StringIO(newline="")
    writer = csv.writer(written, lineterminator="\n")
    writer.writerow(COLUMNS)
    writer.writerows((s.election, s.place, s.step, write_moment(s.done_at), s.minutes) for s in steps)
    return written.getvalue()


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
