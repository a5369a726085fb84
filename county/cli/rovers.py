"""`rovers sheet`: rovers' assignments on paper."""

import argparse
from pathlib import Path
from typing import Any

from county.cli.command import Given, counted
from county.errors import NotFound
from county.following import Following


def add_to(commands: Any) -> None:
    rovers = commands.add_parser("rovers", help="rovers' sheets", description="What rovers take along.")
    actions = rovers.add_subparsers(metavar="ACTION", required=True)
    sheet = actions.add_parser(
        "sheet",
        help="print what is assigned to each rover",
        description="Write a PDF with a page for each rover: its assignments in order, the county's instructions, whom "
        "to call. Its blocks have the names of those of ICS form 204. Without assignments, lines to write on.",
    )
    sheet.add_argument("--out", metavar="FILE", type=Path, required=True, help="the PDF to write")
    sheet.add_argument("--rover", metavar="ID", help="this rover alone")
    sheet.set_defaults(do=_sheet)


def _sheet(given: Given, asked: argparse.Namespace) -> int:
    from county.rover_sheet.writing import sheets_now  # brings scipy and Typst, which no other command needs

    picture = Following(given.office)
    picture.catch_up()
    roster = picture.picture.roster
    rovers = [rover for rover in roster.rovers if asked.rover in (None, rover.rover)]
    if not rovers:
        raise NotFound(f"the roster has no rover {asked.rover}" if asked.rover else "the roster has no rovers yet")
    if asked.out.is_dir() or not asked.out.absolute().parent.is_dir():
        raise NotFound(f"--out: no file can be written at {asked.out}")
    asked.out.write_bytes(sheets_now(given.office, picture.picture, rovers))
    print(f"wrote {counted(len(rovers), 'sheet')} to {asked.out}")
    return 0
