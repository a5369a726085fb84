"""A hundred bad days: sheets filled in from end to end while the signal comes and goes and the battery dies twice.

Counts what was lost, doubled, out of order or at another time than it was done; 1 where there is any of it.
`python -m tests.bench.bench_sheet --runs 100 --first 1`
"""

import argparse
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.ingest.officers_page.a_bad_day import STEPS, a_bad_day, faults_of
from tests.ingest.officers_page.a_county import a_county

AT_ONCE = 2


def main() -> int:
    asked = _parser().parse_args()
    if not asked.share:
        return _in_shares(asked.runs, asked.first)
    faults: list[str] = []
    cuts = deaths = entries = 0
    with (
        tempfile.TemporaryDirectory() as folder,
        sync_playwright() as playwright,
        a_county(Path(folder) / "data", places=asked.runs, now="") as county,
    ):
        for number in range(asked.runs):
            place, seed = f"P{14 + number:03}", asked.first + number
            day = a_bad_day(playwright, county, Path(folder) / place, place, seed)
            told = county.steps(place)
            faults += [f"seed {seed}: {fault}" for fault in faults_of(day, told)]
            cuts, deaths, entries = cuts + day.cuts, deaths + day.deaths, entries + len(told)
    print(f"{asked.runs}\t{entries}\t{cuts}\t{deaths}\t{len(faults)}")
    print("\n".join(faults))
    return int(bool(faults))


def _in_shares(runs: int, first: int) -> int:
    """The same runs spread over processes, which share the machine's cores."""
    began = time.monotonic()
    sizes = [size for size in (runs // AT_ONCE + (n < runs % AT_ONCE) for n in range(AT_ONCE)) if size]
    shares = []
    for number, size in enumerate(sizes):
        start = first + sum(sizes[:number])
        command = [sys.executable, "-m", "tests.bench.bench_sheet", "--share", f"--runs={size}", f"--first={start}"]
        shares.append(subprocess.Popen(command, stdout=subprocess.PIPE, text=True))
    said = [share.communicate()[0].splitlines() for share in shares]
    codes = [share.returncode for share in shares]
    if not all(said):
        print("a share of the runs did not come to its end")
        return 1
    days, entries, cuts, deaths, faults = (sum(int(lines[0].split("\t")[n]) for lines in said) for n in range(5))
    print(
        f"{days} sheets of {STEPS} steps, {entries:,} entries; signal cut {cuts:,} times, battery dead {deaths} times: "
        f"{faults} lost, doubled, out of order or at a wrong time ({time.monotonic() - began:.0f} s)"
    )
    print("\n".join(line for lines in said for line in lines[1:] if line))
    return int(any(codes))


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=100, help="how many sheets")
    parser.add_argument("--first", type=int, default=1, help="the first seed")
    parser.add_argument("--share", action="store_true", help="all of them here, one after another")
    return parser


if __name__ == "__main__":
    sys.exit(main())
