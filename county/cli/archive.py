"""`archive`: an election in one file; checked, opened to be read, and used as the earlier election of the next."""

import argparse
from pathlib import Path
from typing import Any

from county.cli.command import Given, Progress, counted
from county.errors import BadCopy, BadSetting

_DOES = ("open", "check", "earlier")
_STEPS = "earlier_steps.csv"


def add_to(commands: Any) -> None:
    archive = commands.add_parser(
        "archive",
        help="write an election into one file; check, open or use one",
        usage="%(prog)s [-h] FILE | check FILE | open FILE --in FOLDER | earlier FILE",
        description="Write this election (plan, roster, ledger, what was set aside, devices' logs; no key and no "
        "password) into one file. `check` holds a file against its own sums and chain. `open` makes a folder of it "
        "that the board shows and nobody can add to. `earlier` takes from it when each step was done there, for the "
        "curves of this election.",
    )
    archive.add_argument("does", nargs="?", choices=_DOES, metavar="check|open|earlier", help="without it: write")
    archive.add_argument("file", type=Path, metavar="FILE", help="the archive")
    archive.add_argument("--in", dest="folder", type=Path, metavar="FOLDER", help="with open: the folder to make")
    archive.set_defaults(do=_archive)


def _archive(given: Given, asked: argparse.Namespace) -> int:
    if (asked.does == "open") != (asked.folder is not None):
        raise BadSetting("--in FOLDER is needed with `archive open`, and goes with nothing else")
    return {None: _write, "check": _check, "open": _open, "earlier": _earlier}[asked.does](given, asked)


def _write(given: Given, asked: argparse.Namespace) -> int:
    from county.pack.archives.writing import write_archive
    from county.pack.gathering import kept_by

    with Progress("entries verified") as progress:
        kept = kept_by(given.office, progress)
    digest = write_archive(given.office, kept, asked.file)
    print(f"archived {counted(len(kept.entries), 'entry', 'entries')} in {asked.file}; note its SHA-256: {digest}")
    return 0


def _check(given: Given, asked: argparse.Namespace) -> int:
    from county.pack.archives.archive_file import read_archive

    found = read_archive(asked.file)
    print(
        f"{asked.file}: {found.election}; {found.about['entries']:,} entries, every part as its sum says, and the "
        f"chain holds; keep it through {found.about['keep_through']}; SHA-256 {found.digest}"
    )
    return 0


def _open(given: Given, asked: argparse.Namespace) -> int:
    from county.pack.archives.archive_file import read_archive
    from county.pack.archives.opening import open_archive

    found = read_archive(asked.file)
    made = open_archive(found, given.settings, asked.folder)
    print(
        f"opened {found.election} in {asked.folder}, to be read only; the board shows it with "
        f"POLLRISE_DATA={asked.folder} python -m dashboard; sign in as {made.desk.shown} with {made.password}"
    )
    return 0


def _earlier(given: Given, asked: argparse.Namespace) -> int:
    from county.domain.earlier_steps import write_earlier_steps
    from county.pack.archives.archive_file import read_archive
    from county.pack.archives.earlier import steps_of

    found = read_archive(asked.file)
    steps = steps_of(found)
    file = given.office.settings.data / _STEPS
    if given.office.archive:
        raise BadCopy(f"{given.office.settings.data} is {given.office.archive}; it has no earlier election of its own")
    file.write_text(write_earlier_steps(steps), encoding="utf-8", newline="")
    places = len({step.place for step in steps})
    print(
        f"{file}: {counted(len(steps), 'step')} at {counted(places, 'place')} of {found.election}; start the board anew"
    )
    return 0
