"""One command line: find the command, do it, and turn what is refused into one line on stderr."""

import os
import sys
from collections.abc import Mapping, Sequence

from sqlalchemy.exc import DBAPIError

from county.cli import (
    archive,
    device_logs,
    export,
    keys,
    ledger,
    people,
    plan,
    ready,
    rehearse,
    roster,
    rovers,
    setting_up,
)
from county.cli.command import Given, Parser
from county.errors import PollriseError
from county.settings import settings_from

_COMMANDS = (setting_up, roster, rovers, plan, keys, people, ready, ledger, export, archive, device_logs, rehearse)
PROGRAM = "python -m county"
_HINTS = (
    ("disk is full", "nothing was changed; make room on the disk"),
    ("disk I/O error", "is the disk full, or failing?"),
    ("unable to open database file", "may this user read and write it, and its folder?"),
    ("readonly database", "this user may not write it"),
    ("malformed", "it is damaged; keep it, and restore a backup into a new data folder"),
    ("not a database", "it is damaged; keep it, and restore a backup into a new data folder"),
    ("is locked", "another program held it all the while; try again"),
)
"""What a person can do about the driver's words, by a part of them."""


def parser() -> Parser:
    """Every command with its arguments."""
    top = Parser(prog=PROGRAM, description="The county's election-day board: set it up and look after it.")
    commands = top.add_subparsers(metavar="COMMAND", required=True, parser_class=Parser)
    for each in _COMMANDS:
        each.add_to(commands)
    return top


def main(arguments: Sequence[str], environ: Mapping[str, str]) -> int:
    """Do what the command line says; the exit code. 2 is bad input, said in one line on stderr."""
    try:
        asked = parser().parse_args(arguments)
        given = Given(settings_from(environ))
        code: int = asked.do(given, asked)
        sys.stdout.flush()
    except PollriseError as error:
        return _refuse(str(error))
    except DBAPIError as error:
        # the driver's own words, without the address, which may hold a password
        says = f"POLLRISE_DATABASE_URL: the database cannot be used: {error.orig}"
        return _refuse(says + next((f" ({hint})" for words, hint in _HINTS if words in str(error.orig)), ""))
    except BrokenPipeError:
        # whoever read the lines has read enough; nothing more may be said, not even at exit
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 141
    except OSError as error:
        # a disk that is full, or a file that may not be read or written
        return _refuse(": ".join(str(part) for part in (error.filename, error.strerror or error) if part))
    except KeyboardInterrupt:
        print("stopped", file=sys.stderr)
        return 130
    return code


def _refuse(says: str) -> int:
    print(f"{PROGRAM}: {' '.join(says.split())}", file=sys.stderr)
    return 2
