"""`plan check`: whether a plan can be used."""

import argparse
from dataclasses import replace
from pathlib import Path
from typing import Any

from county.cli.command import Given, counted
from county.delivery import unreachable
from county.domain.fitting import roles_without_people
from county.wiring import read_plan


def add_to(commands: Any) -> None:
    plan = commands.add_parser("plan", help="check the county's plan", description="Look after the county's plan.")
    actions = plan.add_subparsers(metavar="ACTION", required=True)
    check = actions.add_parser(
        "check",
        help="say whether a plan can be used",
        description="Read a plan and say whether it can be used; where it cannot, the file, the line and the reason.",
    )
    check.add_argument("file", nargs="?", type=Path, metavar="FILE", help="the plan (default: the one in use)")
    check.set_defaults(do=_check)


def _check(given: Given, asked: argparse.Namespace) -> int:
    settings = replace(given.settings, plan=asked.file) if asked.file else given.settings
    plan = read_plan(settings)
    for problem in (*roles_without_people(plan), *unreachable(plan, settings.sending)):
        print(f"{problem} (warning)")
    election = plan.election
    rehearsal = ", a rehearsal" if election.rehearsal else ""
    print(
        f"{settings.plan} can be used: {election.name}, {election.county}, {election.date}{rehearsal}; "
        f"{counted(len(plan.steps), 'step')}, {counted(len(plan.ladder), 'rung')}, "
        f"{counted(len(plan.people), 'person', 'people')}, {counted(len(plan.instructions), 'instruction')}"
    )
    return 0
