"""`python -m county`: hands the commands the way to read roster files, which is a door of its own."""

import os
import sys
from collections.abc import Sequence
from pathlib import Path

from county.cli import main
from county.domain.roster import Roster
from county.errors import Problem


def _read_roster(files: Sequence[Path]) -> tuple[Roster, tuple[Problem, ...]]:
    # read only where roster files are: the other commands start faster without it
    from county.roster_files.tables import read_tables

    return read_tables(files)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:], os.environ, _read_roster))
