"""Make Wrenfield County's roster, the earlier election's step times and the drop files, always the same ones.

`python -m sample_data.make` writes them beside itself; plan.toml is written by hand.
"""

import csv
import random
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from sample_data.drop_rows import CLEAN, MISTAKES, REPORT_COLUMNS
from sample_data.earlier import earlier_steps
from sample_data.roster_rows import Row, county

SEED = 20261103


def make(folder: Path) -> None:
    """Write every made file under this folder."""
    rng = random.Random(SEED)
    tables = county(rng)
    for table, rows in tables.items():
        _write(folder / f"{table}.csv", list(rows[0]), rows)
    earlier = earlier_steps(tables["places"], rng)
    _write(folder / "earlier_election" / "earlier_steps.csv", list(earlier[0]), earlier)
    for name, reports in (("clean", CLEAN), ("mistakes", MISTAKES)):
        filled = [{**row, **_recorded(row, tables)} for row in reports]
        used = [column for column in REPORT_COLUMNS if any(column in row for row in filled)]
        _write(folder / "drop" / f"{name}.csv", used, filled)


def _recorded(row: Mapping[str, object], tables: Mapping[str, Sequence[Row]]) -> Row:
    """Evidence said as `recorded` is the number recorded at final testing."""
    found: dict[str, object] = {}
    if row.get("seal_number") == "recorded":
        seal = next(s for s in tables["seals"] if (s["device"], s["position"]) == (row["device"], row["seal_position"]))
        found["seal_number"] = seal["number"]
    if row.get("protective_counter") == "recorded":
        device = next(d for d in tables["devices"] if d["device"] == row["device"])
        found["protective_counter"] = device["protective_counter"]
    return found


def _write(file: Path, columns: Sequence[str], rows: Iterable[Row]) -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    with file.open("w", encoding="utf-8", newline="") as out:
        writer = csv.DictWriter(out, columns, lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)


if __name__ == "__main__":
    make(Path(__file__).parent)
