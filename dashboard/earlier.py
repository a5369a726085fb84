"""When each step was done at an earlier election: the curve behind today's."""

import logging
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from county.domain.earlier_steps import EarlierStep, parse_earlier_steps
from county.errors import Refused
from county.settings import Settings

FILE = "earlier_steps.csv"
_log = logging.getLogger("pollrise.board")


@dataclass(frozen=True)
class Earlier:
    """One earlier election: its name, and for each step the minutes from a place's own opening at which it was done.

    `steps` is the file as it was read.
    """

    election: str
    minutes: Mapping[str, Mapping[str, int]]
    steps: tuple[EarlierStep, ...] = ()

    @property
    def places(self) -> int:
        return len({place for done in self.minutes.values() for place in done})


def earlier_folders(settings: Settings) -> tuple[Path, ...]:
    """Where the file may lie: in the data folder, beside the plan, or in a folder of its own beside the plan."""
    return settings.data, settings.plan.parent, settings.plan.parent / "earlier_election"


def read_earlier(folders: Sequence[Path]) -> Earlier | None:
    """The earlier election from the first folder that has its file; a file that cannot be read is logged and left out.

    Nobody needs that curve to run the day, so it never keeps the board from starting.
    """
    file = next((folder / FILE for folder in folders if (folder / FILE).is_file()), None)
    if file is None:
        return None
    try:
        steps = parse_earlier_steps(file.read_text(encoding="utf-8"), str(file))
    except (Refused, OSError, UnicodeDecodeError) as error:
        _log.warning("no curve of an earlier election is shown: %s", error)
        return None
    minutes: dict[str, dict[str, int]] = {}
    for step in steps:
        minutes.setdefault(step.step, {})[step.place] = step.minutes
    return Earlier(steps[-1].election, minutes, steps) if steps else None
