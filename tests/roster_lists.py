"""Roster files written and read in tests, as an election office would have them read."""

from collections.abc import Sequence
from datetime import date, time
from pathlib import Path

from county.domain.plan import Election
from county.domain.roster import Roster
from county.errors import Problem
from county.roster_files.files import RosterFile
from county.roster_files.known import Known
from county.roster_files.reading import Reading, read_files

ELECTION = Election("General Election", "Wrenfield County", date(2026, 11, 3), "America/Chicago", time(6), time(19))


def read(files: Sequence[Path], known: Known | None = None) -> Reading:
    """What the files say to an office that knows nothing yet, or this."""
    return read_files([RosterFile.at(file) for file in files], known or Known(ELECTION))


def read_tables(files: Sequence[Path]) -> tuple[Roster, tuple[Problem, ...]]:
    """The roster, and every problem."""
    reading = read(files)
    return reading.roster, reading.problems


def read_list(said: str | bytes, name: str = "list.csv", known: Known | None = None) -> Reading:
    """What one list says."""
    data = said if isinstance(said, bytes) else said.encode()
    return read_files([RosterFile.held(name, data)], known or Known(ELECTION))
