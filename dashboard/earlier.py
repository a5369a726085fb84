"""When each step was done at an earlier election: the curve behind today's."""

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

FILE = "earlier_steps.csv"


@dataclass(frozen=True)
class Earlier:
    """One earlier election: its name, and for each step the minutes from a place's own opening at which it was done."""

    election: str
    minutes: Mapping[str, Mapping[str, float]]

    @property
    def places(self) -> int:
        return len({place for done in self.minutes.values() for place in done})


def read_earlier(folders: Sequence[Path]) -> Earlier | None:
    """The earlier election's file (election, place, step, done_at, minutes) from the first folder that has one."""
    file = next((folder / FILE for folder in folders if (folder / FILE).is_file()), None)
    if file is None:
        return None
    minutes: dict[str, dict[str, float]] = {}
    name = ""
    with file.open(encoding="utf-8-sig", newline="") as rows:
        for row in csv.DictReader(rows):
            name = row["election"]
            minutes.setdefault(row["step"], {})[row["place"]] = float(row["minutes"])
    return Earlier(name, minutes)
