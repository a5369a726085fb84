"""What rehearsals left behind: each has a folder of its own in the data folder, and a page of figures once it ended."""

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields
from datetime import datetime
from pathlib import Path

from county.domain.moments import write_moment
from county.settings import Settings

FOLDER, RESULT = "rehearsals", "result.json"


@dataclass(frozen=True, slots=True)
class Result:
    """What came of one rehearsal. Times are aware UTC, by the real clock; all else counts what its own ledger holds.

    `whole` says that the day was sent to its end; `broken` names the first bad entry of its chain, 0 where it holds.
    """

    begun_at: datetime
    ended_at: datetime
    places: int
    regime: str
    seed: int
    whole: bool
    entries: int
    heard: int
    opened: int
    late: int
    cases: int
    stopped: int
    told: int
    set_aside: int
    broken: int
    says: str


def folder_of(settings: Settings) -> Path:
    """Where the rehearsals of a data folder lie."""
    return settings.data / FOLDER


def write_result(folder: Path, result: Result) -> None:
    """Write a rehearsal's figures down, whole or not at all."""
    told = {name: write_moment(v) if isinstance(v, datetime) else v for name, v in asdict(result).items()}
    write_whole(folder / RESULT, told)


def results(settings: Settings) -> tuple[Result, ...]:
    """The figures of every rehearsal that ended, newest first; what cannot be read is left out."""
    found = [result_in(file.parent) for file in folder_of(settings).glob(f"*/{RESULT}")]
    return tuple(sorted((one for one in found if one), key=lambda one: one.begun_at, reverse=True))


def write_whole(file: Path, told: Mapping[str, object]) -> None:
    """Write a file so that whoever reads it meanwhile sees the old or the new, never a half."""
    new = file.with_suffix(".new")
    new.write_text(json.dumps(told, indent=1), encoding="utf-8")
    new.replace(file)


def result_in(folder: Path) -> Result | None:
    """The figures of the rehearsal in this folder; None where it has not ended, or they cannot be read."""
    try:
        told = json.loads((folder / RESULT).read_text(encoding="utf-8"))
        values = {field.name: told[field.name] for field in fields(Result)}
        return Result(**values | {name: datetime.fromisoformat(values[name]) for name in ("begun_at", "ended_at")})
    except (OSError, ValueError, KeyError, TypeError):
        return None
