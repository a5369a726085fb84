"""`roster check` and `roster load`: what loading roster files would change, and doing it."""

import argparse
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from county import roster_loading
from county.cli.command import Given, counted
from county.domain.roster import IDS
from county.domain.roster_changes import Change, Did
from county.errors import BadRoster, PollriseError, Problem
from county.roster_files.columns import Guess
from county.roster_files.fields import FIELDS
from county.roster_files.files import RosterFile
from county.roster_loading import Looked, Told, Unconfirmed
from county.upkeep import Loading

_READ_IN_FOLDERS = (".csv", ".tsv", ".txt", ".xlsx", ".xml", ".zip")
_DESCRIPTION = (
    "Each table given takes the place of the one that stands; a table not given stays. Places heard from are never "
    "removed. FILE may be one of the five tables, a workbook, a VIP feed, an archive or folder of these, or the "
    "county's own list: its columns are guessed, shown, and remembered once they are confirmed. Every problem is named "
    "with its row, worst first."
)


def add_to(commands: Any) -> None:
    roster = commands.add_parser("roster", help="places, devices, rovers", description="Whom we expect to hear from.")
    actions = roster.add_subparsers(metavar="ACTION", required=True)
    for name, says, do in (
        ("check", "say what loading these files would change, without doing it", _check),
        ("load", "load these files into the roster", _load),
    ):
        action = actions.add_parser(name, help=says, description=f"{says[0].upper()}{says[1:]}. {_DESCRIPTION}")
        action.add_argument("files", nargs="+", type=Path, metavar="FILE", help="roster files, any number")
        action.add_argument(
            "--map",
            action="append",
            default=[],
            metavar="FIELD=HEADER",
            help=f"say which column of an own list says what; FIELD is one of {', '.join(FIELDS)}; "
            'HEADER may be several, parted by " + ", or nothing',
        )
        if do is _load:
            action.add_argument("--confirm", action="store_true", help="the guessed columns are right; use them")
        action.set_defaults(do=do)


def _check(given: Given, asked: argparse.Namespace) -> int:
    looked = roster_loading.check(given.office, _files(asked.files), _told(asked.map))
    _show(looked)
    loading = _nothing_wrong(looked)
    for did in Did:
        for table in IDS:
            _name(did, table, [change for change in loading.changes if (change.did, change.table) == (did, table)])
    if looked.doubts:
        print("load will ask for --confirm, because columns had to be guessed with doubts")
    print(_in_one_line("would be", loading) + _warned(looked))
    return 0


def _load(given: Given, asked: argparse.Namespace) -> int:
    files, told = _files(asked.files), _told(asked.map)
    looked = roster_loading.check(given.office, files, told)
    _show(looked)
    _nothing_wrong(looked)
    confirmed = asked.confirm or _says_yes(looked)
    try:
        looked = roster_loading.load(given.office, files, told, confirmed=confirmed)
    except Unconfirmed as error:
        raise PollriseError(
            f"{error.problems[0]}; look at the columns, then load with --confirm, or say them with --map"
        ) from None
    except BadRoster as error:
        raise _not_loaded(error.problems) from None
    print(_in_one_line("", _nothing_wrong(looked)) + _warned(looked))
    return 0


def _files(paths: Sequence[Path]) -> list[RosterFile]:
    """The files as named; a folder stands for what lies in it."""
    found = (each for path in paths for each in (_in_folder(path) if path.is_dir() else [path]))
    return [RosterFile.at(path) for path in found]


def _in_folder(path: Path) -> list[Path]:
    return sorted(each for each in path.iterdir() if each.suffix.casefold() in _READ_IN_FOLDERS and each.is_file())


def _told(said: Sequence[str]) -> Told:
    """What --map says, for every file. Raises PollriseError."""
    told = {}
    for each in said:
        name, equals, header = each.partition("=")
        if not equals or name.strip() not in FIELDS:
            raise PollriseError(f"--map {each}: say FIELD=HEADER; the fields are {', '.join(FIELDS)}")
        told[name.strip()] = header
    return {"": told} if told else {}


def _says_yes(looked: Looked) -> bool:
    """A person at a terminal is asked about every column map that was not confirmed before."""
    new = [each for each in looked.guesses if not each.confirmed]
    if not new or not (sys.stdin.isatty() and sys.stdout.isatty()):
        return False
    if input("Are these columns right? [y/N] ").strip().casefold() in ("y", "yes"):
        return True
    raise PollriseError("nothing is loaded; say the right columns with --map FIELD=HEADER")


def _show(looked: Looked) -> None:
    """The guessed columns, every problem with worst first, and what was left out or joined, a line each."""
    for guess in looked.guesses:
        for line in _columns(guess):
            print(line)
    for problem in looked.problems:
        print(f"{problem}{' (warning)' if problem.warning else ''}")
    for note in looked.notes:
        print(f"{note} (note)")


def _columns(guess: Guess) -> Iterator[str]:
    how = "as confirmed" if guess.confirmed else "guessed"
    sheet = f" [{guess.sheet}]" if guess.sheet else ""
    yield f"columns of {guess.file}{sheet}, header in row {guess.header_row}, {how}:"
    for name, headers in guess.columns.items():
        said = " + ".join(headers)
        example = f"  e.g. {guess.sample[name][0][:40]}" if guess.sample.get(name) else ""
        yield f"  {name:<18}{said}{example}"
    if guess.left_out:
        yield f"  {'(left out)':<18}{', '.join(guess.left_out)}"
    for doubt in guess.doubts:
        yield f"  {'(doubtful)':<18}{doubt}"


def _nothing_wrong(looked: Looked) -> Loading:
    if looked.loading is None:
        raise _not_loaded(looked.wrong)
    return looked.loading


def _not_loaded(problems: Sequence[Problem]) -> PollriseError:
    return PollriseError(f"{counted(len(problems), 'problem')}, beginning with {problems[0]}; nothing is loaded")


def _warned(looked: Looked) -> str:
    return f"; {counted(len(looked.warnings), 'warning')}" if looked.warnings else ""


def _name(did: Did, table: str, changes: list[Change]) -> None:
    if changes:
        print(f"{did} {table}: {', '.join(str(change) for change in changes)}")


def _in_one_line(would: str, loading: Loading) -> str:
    after = loading.after
    whole = ", ".join(f"{len(getattr(after, table)):,} {table}" for table in IDS)
    counts = Counter(change.did for change in loading.changes)
    did = ", ".join(f"{counts[each]:,} {would} {each}".replace("  ", " ") for each in Did)
    stay = f"; {', '.join(loading.stay)} not given but heard from, so kept" if loading.stay else ""
    return f"{did if loading.changes else 'nothing to change'}{stay}; {'it comes to' if would else 'now'} {whole}"
