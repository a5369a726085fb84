"""`init`: the data folder, the database, plan.toml and the first desk account."""

import argparse
from pathlib import Path
from typing import Any

from county.carrying_over import carry_over, roster_of
from county.cli.command import Given
from county.errors import NotFound
from county.plans import standing
from county.setting_up import set_up
from county.settings import settings_from
from county.wiring import open_office


def add_to(commands: Any) -> None:
    init = commands.add_parser(
        "init",
        help="data folder, database, plan.toml, first desk account",
        description="Make what is missing of the data folder, the database, plan.toml (a sample to be changed) and the "
        "first desk account, whose first password for the board and reporting key are shown once. What stands already "
        "is left as it is.",
    )
    init.add_argument(
        "--like",
        type=Path,
        metavar="FOLDER",
        help="carry over plan, roster, people and keys of another data folder into this new one; its ledger begins "
        "anew, and cards that are printed stay good",
    )
    init.set_defaults(do=_init)


def _init(given: Given, asked: argparse.Namespace) -> int:
    if asked.like:
        return _like(given, asked.like)
    done = set_up(given.settings)
    parts = [f"made {', '.join(done.made)}" if done.made else "nothing to make"]
    if done.stood:
        parts.append(f"already there: {', '.join(done.stood)}")
    if done.key:
        parts.append("the desk's reporting key and its first password for the board follow and are shown this once")
    print("; ".join(parts))
    if done.key:
        print(f"{done.desk.shown}\t{done.key}")
        print(f"{done.desk.shown}\t{done.password}\t(to sign in to the board, where it is changed at once)")
    return 0


def _like(given: Given, folder: Path) -> int:
    if not folder.is_dir():
        raise NotFound(f"--like: there is no data folder {folder}")
    before, new = settings_from({"POLLRISE_DATA": str(folder)}), given.settings
    office = open_office(before)
    text = standing(office).text
    office.engine.dispose()
    roster = roster_of(before)
    carry_over(before, new, text, roster, with_keys=True)
    print(
        f"made {new.data} with the plan, the people, the keys and the {len(roster.places):,} places of {folder}; "
        "its ledger is empty"
    )
    return 0
