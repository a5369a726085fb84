"""`verify`, `backup` and `restore`: the ledger looked after."""

import argparse
from pathlib import Path
from typing import Any

from county import upkeep
from county.cli.command import Given, Progress, counted


def add_to(commands: Any) -> None:
    verify = commands.add_parser(
        "verify",
        help="walk the ledger's chain",
        description="Walk the ledger's chain of digests. Exit code 1, and the first bad entry's number, where it is "
        "broken. Note the last digest elsewhere: entries cut off at the very end can only be told by it.",
    )
    verify.set_defaults(do=_verify)
    backup = commands.add_parser(
        "backup",
        help="write a consistent copy to a new file",
        description="Write a consistent copy of everything kept to a new file while the office works, read it back and "
        "walk its chain. plan.toml is a file of its own: copy it beside.",
    )
    backup.add_argument("file", type=Path, metavar="FILE", help="the file to write; never one that exists")
    backup.set_defaults(do=_backup)
    restore = commands.add_parser(
        "restore",
        help="bring a backup back into an empty data store",
        description="Bring a backup back into a data store without entries or roster, all or nothing, where the "
        "backup's chain holds. People and reporting keys become the backup's.",
    )
    restore.add_argument("file", type=Path, metavar="FILE", help="the backup")
    restore.set_defaults(do=_restore)


def _verify(given: Given, asked: argparse.Namespace) -> int:
    with Progress("entries verified") as progress:
        bad, last, digest = upkeep.verify(given.office, progress)
    if bad is not None:
        print(_broken(bad))
        return 1
    print(f"{counted(last, 'entry', 'entries')}, and the chain holds; last digest {digest}")
    return 0


def _backup(given: Given, asked: argparse.Namespace) -> int:
    with Progress("rows copied") as progress:
        entries, bad = upkeep.backup(given.office, asked.file, progress)
    print(f"copied {counted(entries, 'entry', 'entries')} and all else to {asked.file}; ", end="")
    print("its chain holds" if bad is None else _broken(bad))
    return 0 if bad is None else 1


def _restore(given: Given, asked: argparse.Namespace) -> int:
    with Progress("rows copied") as progress:
        entries = upkeep.restore(given.office, asked.file, progress)
    print(
        f"restored {counted(entries, 'entry', 'entries')} from {asked.file}, and the chain holds; "
        "people and reporting keys are the backup's"
    )
    return 0


def _broken(bad: int) -> str:
    return f"the chain is broken: entry {bad} is wrong or missing"
