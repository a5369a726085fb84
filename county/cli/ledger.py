"""`verify`, `backup` and `restore`: the ledger looked after."""

import argparse
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from county import beside_plan, upkeep
from county.cli.command import Given, Progress, counted
from county.wiring import Office, open_office


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
        "walk its chain. plan.toml and what lies beside it for the office (columns.toml, the county's own ways, "
        "earlier_steps.csv) go along. Not in it: the settings, the drop folder, rehearsals, and a plan file whose "
        "addresses may hold a password.",
    )
    backup.add_argument("file", type=Path, metavar="FILE", help="the file to write; never one that exists")
    backup.set_defaults(do=_backup)
    restore = commands.add_parser(
        "restore",
        help="bring a backup back into an empty data store",
        description="Bring a backup back into a data store without entries or roster, all or nothing, where the "
        "backup's chain holds. People and reporting keys become the backup's; the plan file and those beside it are "
        "put back, but never over another.",
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
    gathered = beside_plan.gather(given.settings, given.office.plan)
    with Progress("rows copied") as progress:
        entries, bad = upkeep.backup(given.office, asked.file, progress, gathered.files)
    beside = f", with {', '.join(gathered.files)}" if gathered.files else ""
    print(f"copied {counted(entries, 'entry', 'entries')} and all else to {asked.file}{beside}; ", end="")
    print("its chain holds" if bad is None else _broken(bad), end="; ")
    print(f"not in it: {', '.join((*gathered.left_out, 'settings', 'the drop folder', 'rehearsals'))}")
    return 0 if bad is None else 1


def _restore(given: Given, asked: argparse.Namespace) -> int:
    files = upkeep.files_in(asked.file)
    office = _office(given, files)
    with Progress("rows copied") as progress:
        entries = upkeep.restore(office, asked.file, progress)
    print(
        f"restored {counted(entries, 'entry', 'entries')} from {asked.file}, and the chain holds; "
        f"people and reporting keys are the backup's; {_put_back(beside_plan.put_back(given.settings, files))}"
    )
    return 0


def _office(given: Given, files: Mapping[str, bytes]) -> Office:
    """The office to restore into; where it has no plan yet, under the backup's."""
    plan = None if given.settings.plan.exists() else beside_plan.plan_among(files)
    return open_office(given.settings, plan) if plan else given.office


def _put_back(done: beside_plan.PutBack) -> str:
    if not done.written and not done.kept:
        return "it holds no plan file: put that and what lies beside it back yourself"
    written = f"put back {', '.join(done.written)}" if done.written else ""
    kept = f"kept your {'; kept your '.join(done.kept)}" if done.kept else ""
    return "; ".join(part for part in (written, kept) if part)


def _broken(bad: int) -> str:
    return f"the chain is broken: entry {bad} is wrong or missing"
