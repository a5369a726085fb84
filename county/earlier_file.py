"""The earlier election's steps, from the file that lies in the data folder or beside the plan: for board and clock."""

import logging
from functools import lru_cache
from pathlib import Path

from county.domain.earlier_steps import EarlierStep, parse_earlier_steps
from county.errors import Refused
from county.settings import Settings

FILE = "earlier_steps.csv"
_log = logging.getLogger(__name__)


def earlier_folders(settings: Settings) -> tuple[Path, ...]:
    """Where the file may lie: in the data folder, beside the plan, or in a folder of its own beside the plan."""
    return settings.data, settings.plan.parent, settings.plan.parent / "earlier_election"


def earlier_steps_at_hand(settings: Settings) -> tuple[EarlierStep, ...]:
    """Every step in the first folder's file that is there; none where there is none.

    A file that cannot be read is logged once and left out: nobody needs it to run the day.
    """
    file = next((folder / FILE for folder in earlier_folders(settings) if (folder / FILE).is_file()), None)
    try:
        return _read(file, file.stat().st_mtime_ns) if file else ()
    except OSError:
        return ()


@lru_cache(maxsize=4)
def _read(file: Path, changed_at: int) -> tuple[EarlierStep, ...]:
    """The file's steps; read again when it has changed."""
    try:
        return parse_earlier_steps(file.read_text(encoding="utf-8"), str(file))
    except (Refused, OSError, UnicodeDecodeError) as error:
        _log.warning("the earlier election is left out: %s", error)
        return ()
