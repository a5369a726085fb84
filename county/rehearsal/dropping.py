"""Writes reports as a CSV file into a drop folder, so that it is never seen half written."""

import csv
from collections.abc import Sequence
from pathlib import Path

from county.rehearsal.sent import Sent


def drop(rows: Sequence[Sent], file: Path) -> None:
    """Write one report a row, under another name first; makes the folder where there is none."""
    file.parent.mkdir(parents=True, exist_ok=True)
    columns = list(dict.fromkeys(column for row in rows for column in row.raw))
    unfinished = file.with_name(f"{file.name}.part")
    with unfinished.open("w", encoding="utf-8", newline="") as out:
        writer = csv.DictWriter(out, columns)
        writer.writeheader()
        writer.writerows({column: cell(value) for column, value in row.raw.items()} for row in rows)
    unfinished.rename(file)


def cell(value: object) -> object:
    """A field as it stands in a CSV cell."""
    if isinstance(value, bool):
        return str(value).lower()
    return "; ".join(map(str, value)) if isinstance(value, list | tuple) else value
