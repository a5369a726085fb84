"""`plan check`, `plan load`, `plan versions` and `plan show`: the county's plan and how it came to be what it is."""

import argparse
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from county import plans
from county.cli.command import Given, counted
from county.delivery import unreachable
from county.domain.fitting import roles_without_people
from county.domain.intake import Hand
from county.domain.people import read_name
from county.domain.plan import Plan
from county.domain.plan_secrets import exposed
from county.domain.plan_versions import difference
from county.errors import BadPlan, NotFound, NotSure, PollriseError
from county.ways_file import read_ways
from county.wiring import name_in_force, open_office, plan_in_force, read_plan, read_plan_text


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
    load = actions.add_parser(
        "load",
        help="make a plan file the newest version",
        description="Make a plan file the newest version, in force at once in every program that runs. It is written "
        "into the ledger; the versions before stay readable, and the plan file is no longer looked at.",
    )
    load.add_argument("file", type=Path, metavar="FILE", help="the plan")
    load.add_argument("--by", type=_name, default="the office", metavar="NAME", help="who makes it (the office)")
    load.add_argument("--note", default="", metavar="TEXT", help="why it is made")
    load.add_argument("--sure", action="store_true", help="also where it changes what the day rests on")
    load.set_defaults(do=_load)
    versions = actions.add_parser(
        "versions", help="list the versions", description="Every version of the plan that was written down."
    )
    versions.set_defaults(do=_versions)
    show = actions.add_parser(
        "show",
        help="print a version",
        description="Print a version's text, or what it changed of the one before.",
    )
    show.add_argument("number", nargs="?", type=int, metavar="N", help="the version (default: the plan in force)")
    show.add_argument("--changes", action="store_true", help="what it changed of the one before")
    show.set_defaults(do=_show)


def _check(given: Given, asked: argparse.Namespace) -> int:
    settings = replace(given.settings, plan=asked.file) if asked.file else given.settings
    plan = read_plan(settings) if asked.file else plan_in_force(settings)
    ways = read_ways(settings.plan, plan)
    for problem in (*roles_without_people(plan), *unreachable(plan, settings.sending), *exposed(plan)):
        print(f"{problem} (warning)")
    election = plan.election
    name = asked.file or name_in_force(settings)
    rehearsal = ", a rehearsal" if election.rehearsal else ""
    print(
        f"{name} can be used: {election.name}, {election.county}, {election.date}{rehearsal}; "
        f"{counted(len(plan.steps), 'step')}, {counted(len(plan.ladder), 'rung')}, "
        f"{counted(len(plan.people), 'person', 'people')}, {counted(len(plan.instructions), 'instruction')}"
        + (f", {counted(len(ways), 'way')} in {plan.dispatch.matrix_file}" if plan.dispatch.matrix_file else "")
    )
    return 0


def _load(given: Given, asked: argparse.Namespace) -> int:
    text = read_plan_text(replace(given.settings, plan=asked.file))
    try:
        plan = plans.check(text)
    except BadPlan as error:
        raise BadPlan(str(asked.file), error.line, error.reason) from None
    # the plan in force may be one that cannot be read any more, and this is the way out
    office = open_office(given.settings, plan)
    clock = office.clock
    hand = Hand("desk:command", asked.by, "command", clock.now(), clock.word)
    try:
        made = plans.save(office, text, hand, based_on=plans.standing(office).number, sure=asked.sure, note=asked.note)
    except NotSure as error:
        for says in error.asked:
            print(says)
        raise PollriseError(f"nothing is loaded; {counted(len(error.asked), 'change')} to be sure of: --sure") from None
    print(f"{asked.file} is version {made[-1].number} of the plan and in force; {_steps(plan)}")
    return 0


def _versions(given: Given, asked: argparse.Namespace) -> int:
    standing = plans.standing(given.office)
    zone = ZoneInfo(given.office.plan.election.zone)
    for version in standing.versions:
        at = version.at.astimezone(zone).strftime("%Y-%m-%d %H:%M:%S %Z")
        rehearsal = ", a rehearsal" if version.rehearsal else ""
        print(f"{version.number}\t{at}\t{version.by}{rehearsal}\t{version.note}".rstrip())
    file = given.settings.plan
    if standing.file_differs:
        print(f"{file} says something else and is not in force; `plan load {file}` makes it the newest version")
    elif not standing.in_ledger:
        print(f"in force: {file}, until a version is loaded or made on the board")
    return 0


def _show(given: Given, asked: argparse.Namespace) -> int:
    standing = plans.standing(given.office)
    number = standing.number if asked.number is None else asked.number
    if asked.number is None and not asked.changes:
        sys.stdout.write(standing.text)
        return 0
    texts = {version.number: version.text for version in standing.versions}
    if number not in texts:
        raise NotFound(f"there is no version {number} of the plan; `plan versions` lists them")
    lines = difference(texts.get(number - 1, ""), texts[number]) if asked.changes else texts[number].splitlines()
    print("\n".join(lines))
    return 0


def _steps(plan: Plan) -> str:
    return f"{counted(len(plan.steps), 'step')}, {counted(len(plan.ladder), 'rung')}"


def _name(text: str) -> str:
    try:
        return read_name(text)
    except PollriseError as error:
        raise argparse.ArgumentTypeError(str(error)) from None
