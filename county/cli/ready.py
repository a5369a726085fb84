"""`ready`: what is still to be done before the day, worst first."""

import argparse
from typing import Any

from county.cli.command import Given
from county.domain.readiness import Thing, Weight, sentence
from county.getting_ready import things_to_do

_SHOWN = 12


def add_to(commands: Any) -> None:
    ready = commands.add_parser(
        "ready",
        help="say what is still to be done before the day",
        description="Look at roster, plan, people, keys and rehearsals, and say what is still to be done, worst first, "
        "with where it is put right. Exit code 1 where something stops the day.",
    )
    ready.add_argument("--all", action="store_true", help=f"name everything found, also beyond the first {_SHOWN}")
    ready.set_defaults(do=_ready)


def _ready(given: Given, asked: argparse.Namespace) -> int:
    things = things_to_do(given.office)
    print(sentence(things))
    for thing in things:
        print(f"{thing.check.weight}: {thing.says} [{thing.check.where}]")
        print(f"    {_named(thing, len(thing.found) if asked.all else _SHOWN)}")
        source = f" ({thing.check.source})" if thing.check.source else ""
        print(f"    {thing.check.mend}{source}")
    return 1 if any(thing.check.weight is Weight.STOPS for thing in things) else 0


def _named(thing: Thing, most: int) -> str:
    more = len(thing.found) - most
    return "; ".join(thing.found[:most]) + (f"; and {more:,} more" if more > 0 else "")
