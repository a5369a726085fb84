"""`roster check` and `roster load`: what loading roster files would change, and doing it."""

import argparse
from collections import Counter
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from county import upkeep
from county.cli.command import Given, counted
from county.domain.fitting import misfits
from county.domain.roster import Roster
from county.domain.roster_changes import Change, Did
from county.errors import BadRoster, PollriseError, Problem
from county.upkeep import Loading
from county.wiring import Office

_TABLES = ("places", "precincts", "devices", "seals", "rovers")


def add_to(commands: Any) -> None:
    roster = commands.add_parser("roster", help="places, devices, rovers", description="Whom we expect to hear from.")
    actions = roster.add_subparsers(metavar="ACTION", required=True)
    for name, says, do in (
        ("check", "say what loading these files would change, without doing it", _check),
        ("load", "load these files into the roster", _load),
    ):
        action = actions.add_parser(
            name,
            help=says,
            description=f"{says[0].upper()}{says[1:]}. Each table given takes the place of the one that stands; "
            "a table not given stays. Places heard from are never removed. Every problem is named with its row.",
        )
        action.add_argument("files", nargs="+", type=Path, metavar="FILE", help="roster files, any number")
        action.set_defaults(do=do)


def _check(given: Given, asked: argparse.Namespace) -> int:
    loading, warnings = _looked_at(given, asked, upkeep.check_roster)
    for did in Did:
        for table in _TABLES:
            _name(did, table, [change for change in loading.changes if (change.did, change.table) == (did, table)])
    print(_in_one_line("would be", loading) + warnings)
    return 0


def _load(given: Given, asked: argparse.Namespace) -> int:
    loading, warnings = _looked_at(given, asked, upkeep.load_roster)
    print(_in_one_line("", loading) + warnings)
    return 0


def _looked_at(
    given: Given, asked: argparse.Namespace, look: Callable[[Office, Roster], Loading]
) -> tuple[Loading, str]:
    """What the files change, with how many warnings; every problem a line of its own, and then refused in one."""
    office = given.office
    roster, problems = given.read_roster(asked.files)
    for problem in problems:
        print(f"{problem}{' (warning)' if problem.warning else ''}")
    wrong = [problem for problem in problems if not problem.warning]
    if wrong:
        raise _not_loaded(wrong)
    try:
        loading = look(office, roster)
    except BadRoster as error:
        for problem in error.problems:
            print(problem)
        raise _not_loaded(error.problems) from None
    unfit = misfits(loading.after, office.plan)
    for problem in unfit:
        print(f"{problem} (warning)")
    warnings = len(problems) + len(unfit)
    return loading, f"; {counted(warnings, 'warning')}" if warnings else ""


def _not_loaded(problems: Sequence[Problem]) -> PollriseError:
    return PollriseError(f"{counted(len(problems), 'problem')}, beginning with {problems[0]}; nothing is loaded")


def _name(did: Did, table: str, changes: list[Change]) -> None:
    if changes:
        print(f"{did} {table}: {', '.join(str(change) for change in changes)}")


def _in_one_line(would: str, loading: Loading) -> str:
    after = loading.after
    whole = ", ".join(f"{len(getattr(after, table)):,} {table}" for table in _TABLES)
    counts = Counter(change.did for change in loading.changes)
    did = ", ".join(f"{counts[each]:,} {would} {each}".replace("  ", " ") for each in Did)
    stay = f"; {', '.join(loading.stay)} not given but heard from, so kept" if loading.stay else ""
    return f"{did if loading.changes else 'nothing to change'}{stay}; {'it comes to' if would else 'now'} {whole}"
