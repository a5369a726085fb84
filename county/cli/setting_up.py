"""`init`: the data folder, the database, plan.toml and the first desk account."""

import argparse
from typing import Any

from county.cli.command import Given
from county.setting_up import set_up


def add_to(commands: Any) -> None:
    init = commands.add_parser(
        "init",
        help="data folder, database, plan.toml, first desk account",
        description="Make what is missing of the data folder, the database, plan.toml (a sample to be changed) and the "
        "first desk account, whose first password for the board and reporting key are shown once. What stands already "
        "is left as it is.",
    )
    init.set_defaults(do=_init)


def _init(given: Given, asked: argparse.Namespace) -> int:
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
