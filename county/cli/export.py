"""`export`: the review pack, for the board of elections, a court, or a records request."""

import argparse
import sys
from pathlib import Path
from typing import Any

from county import desk
from county.cli.command import Given, Progress, counted
from county.errors import NotFound


def add_to(commands: Any) -> None:
    export = commands.add_parser(
        "export",
        help="write the review pack: report, workbook, CSV, ledger with a verifier",
        description="Write the review pack into a new folder: a report and an activity log as PDF, a workbook, CSV, "
        "GeoJSON, and the ledger as JSON lines with a verifier that needs nothing but Python. The same ledger gives "
        "the same bytes. Names of staff and telephone numbers are left out unless --with-names.",
    )
    export.add_argument(
        "--out", type=Path, required=True, metavar="DIR", help="the folder to write, new or empty; or FILE.zip"
    )
    export.add_argument("--with-names", action="store_true", help="names of staff and telephone numbers as they stand")
    export.add_argument("--without-notes", action="store_true", help="leave out everything that was written freely")
    export.add_argument(
        "--place",
        action="append",
        default=[],
        metavar="PLACE",
        help="print this place's day minute by minute too; may be repeated",
    )
    export.add_argument(
        "--every-place", action="store_true", help="print every place's day minute by minute, however many there are"
    )
    export.add_argument("--say-lines", action="store_true", help="say what is being written, a line each")
    export.set_defaults(do=_export)


def _export(given: Given, asked: argparse.Namespace) -> int:
    # read only where a pack is made: the other commands start faster without it
    from county.pack.gathering import kept_by
    from county.pack.record import Choice
    from county.pack.writing import write_pack

    if asked.with_names and asked.without_notes:
        raise NotFound("--without-notes is for a public copy; with --with-names nothing is left out")
    known = desk.roster(given.office).place_by_id if asked.place else {}
    unknown = [place for place in asked.place if place not in known]
    if unknown:
        raise NotFound(f"no place {', '.join(unknown)} on the roster")
    with Progress("entries verified") as progress:
        kept = kept_by(given.office, progress)
    choice = Choice(asked.with_names, not asked.without_notes, tuple(asked.place), asked.every_place)
    with Doing(lines=asked.say_lines) as doing:
        record = write_pack(kept, choice, asked.out, doing)
    left_out = "names and telephone numbers left out" if record.public else "WITH names and telephone numbers"
    print(f"wrote {counted(len(kept.entries), 'entry', 'entries')} to {asked.out}, {left_out}; ", end="")
    if kept.broken is not None:
        print(f"the chain is broken: entry {kept.broken} is wrong or missing, and the pack says so")
        return 1
    print(f"the chain holds; {_check(asked.out)}")
    return 0


def _check(out: Path) -> str:
    return "unpack it and run verify.py" if out.suffix.lower() == ".zip" else f"check with python {out / 'verify.py'}"


class Doing:
    """What long work is at: on one line of a terminal, or a line each where asked for; silent anywhere else."""

    def __init__(self, *, lines: bool = False) -> None:
        self._lines, self._shown = lines, sys.stderr.isatty() and not lines

    def __call__(self, what: str) -> None:
        if self._lines:
            print(what, file=sys.stderr, flush=True)
        elif self._shown:
            print(f"\r\x1b[Kwriting {what} …", end="", file=sys.stderr, flush=True)

    def __enter__(self) -> "Doing":
        return self

    def __exit__(self, *raised: object) -> None:
        if self._shown:
            print("\r\x1b[K", end="", file=sys.stderr, flush=True)
